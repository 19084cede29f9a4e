//! The logical tree of a document: what a screen reader walks through.

/// A place in the tree.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Tree(pub(crate) usize);

/// What a node of the tree is.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Kind {
    Document,
    Section,
    Heading(u16),
    Paragraph,
    Group,
    List { numbered: bool },
    Item,
    ItemLabel,
    ItemBody,
    Table,
    Row,
    HeadCell,
    Cell,
    Figure { alt: String },
}

/// One node.
#[derive(Clone, Debug)]
pub(crate) struct Node {
    pub(crate) kind: Kind,
    pub(crate) children: Vec<Tree>,
}

/// All nodes; the first is the document.
#[derive(Clone, Debug)]
pub(crate) struct Tags {
    pub(crate) nodes: Vec<Node>,
}

impl Tags {
    pub(crate) const ROOT: Tree = Tree(0);

    pub(crate) fn new() -> Self {
        Self { nodes: vec![Node { kind: Kind::Document, children: Vec::new() }] }
    }

    /// A new node under `parent`.
    pub(crate) fn under(&mut self, parent: Tree, kind: Kind) -> Tree {
        let tree = Tree(self.nodes.len());
        self.nodes.push(Node { kind, children: Vec::new() });
        if let Some(parent) = self.nodes.get_mut(parent.0) {
            parent.children.push(tree);
        }
        tree
    }
}
