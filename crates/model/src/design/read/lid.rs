//! `[lid]`.

use super::bottom::{frame_panel_hold, top_hold};
use super::build::{Otherwise, build, wood_or};
use super::corners::frame_keys;
use super::section::Section;
use crate::design::lid::{Frame, FramePanel, Lid, LidKind, PanelHold, Registration, SawnTop};
use crate::design::problem::quoted;
use crate::design::read::value::plain;
use crate::design::statement::{Build, WoodUse};
use crate::design::usual;
use crate::units::Length;
use toml::de::DeValue;

/// The kinds of lid by name.
#[derive(Clone, Copy, PartialEq)]
pub(in crate::design) enum Kind {
    None,
    Frame,
    Slab,
    Sawn,
    Sliding,
}

/// The ways to find its place by name.
#[derive(Clone, Copy, PartialEq)]
pub(in crate::design) enum Register {
    None,
    Lip,
    Rabbet,
    Lining,
    Hinges,
}

const KINDS: [(&str, Kind); 5] = [
    ("none", Kind::None),
    ("frame", Kind::Frame),
    ("slab", Kind::Slab),
    ("sawn", Kind::Sawn),
    ("sliding", Kind::Sliding),
];

const PANEL: [&str; 8] = ["wood", "rings", "strips", "sheet", "veneered", "thickness", "hold", "depth"];

impl Kind {
    /// The kind in words.
    fn words(self) -> &'static str {
        match self {
            Self::None => "there is no lid",
            Self::Frame => "this lid is a frame with a panel",
            Self::Slab => "this lid is a slab",
            Self::Sawn => "this lid is sawn from the box",
            Self::Sliding => "this lid slides",
        }
    }

    /// How a lid of this kind finds its place where nothing is said.
    pub(in crate::design) fn usual_register(self, has_hinges: bool) -> Register {
        match self {
            Self::None | Self::Sliding => Register::None,
            _ if has_hinges => Register::Hinges,
            Self::Frame => Register::Lip,
            Self::Slab => Register::Rabbet,
            Self::Sawn => Register::None,
        }
    }
}

/// The lid.
pub(super) fn lid(root: &Section<'_>, walls: &WoodUse) -> Lid {
    let keys = [
        "kind",
        "registration",
        "overhang",
        "lip_height",
        "lip_thickness",
        "lip_play",
        "rabbet_depth",
        "rabbet_play",
        "member",
        "thickness",
        "wood",
        "rings",
        "woods",
        "strips",
        "sheet",
        "veneered",
        "keys",
        "panel",
        "height",
        "kerf",
        "clean_up",
        "top",
        "groove_depth",
        "side_play",
        "thickness_play",
        "below_rim",
    ];
    let Some(section) = root.section("lid", &keys) else {
        return Lid { kind: LidKind::None, registration: Registration::None, overhang: Length::ZERO };
    };
    let kind = kind(&section);
    refuse_foreign_keys(&section, kind);
    let made = match kind {
        Kind::None => LidKind::None,
        Kind::Frame => LidKind::Frame(frame(&section, walls)),
        Kind::Slab => LidKind::Slab {
            build: build(&section, walls, Otherwise::SolidLikeWalls),
            thickness: section.positive_or("thickness", usual::LID_THICKNESS),
        },
        Kind::Sawn => LidKind::Sawn {
            height: section.positive_or("height", usual::SAWN_HEIGHT),
            kerf: section.positive_or("kerf", usual::SAWN_KERF),
            clean_up: section.length_or("clean_up", usual::SAWN_CLEAN_UP),
            top: top(&section, walls),
        },
        Kind::Sliding => LidKind::Sliding {
            build: build(&section, walls, Otherwise::SolidLikeWalls),
            thickness: section.positive_or("thickness", usual::SLIDING_THICKNESS),
            groove_depth: section.positive_or("groove_depth", usual::SLIDING_GROOVE),
            side_play: section.length_or("side_play", usual::SIDE_PLAY),
            thickness_play: section.length_or("thickness_play", usual::THICKNESS_PLAY),
            below_rim: section.positive_or("below_rim", usual::BELOW_RIM),
        },
    };
    Lid {
        kind: made,
        registration: registration(&section, kind, root),
        overhang: section.length_or("overhang", Length::ZERO),
    }
}

/// The kind, with a hint for the maker who asks for a hinged lid by that name.
fn kind(section: &Section<'_>) -> Kind {
    let Some(value) = section.value("kind") else {
        section.missing("kind", "\"slab\"");
        section.unsettle();
        return Kind::None;
    };
    if let DeValue::String(text) = value.node.get_ref()
        && plain(text) == "hinged"
    {
        value.note(
            format!("`kind` cannot be `{}`: hinges say how a lid turns, not what it is", quoted(text)),
            "write kind = \"frame\", \"slab\" or \"sawn\" and add a section [hinges]",
        );
        section.unsettle();
        return Kind::None;
    }
    section.choice_or("kind", &KINDS, Kind::None)
}

/// Notes keys that belong to another kind of lid.
fn refuse_foreign_keys(section: &Section<'_>, kind: Kind) {
    use Kind::{Frame, Sawn, Slab, Sliding};
    let table: [(&[&str], &[Kind], &str, &str); 7] = [
        (&["member", "woods", "keys", "panel"], &[Frame], "a frame", "frame"),
        (&["height", "kerf", "clean_up", "top"], &[Sawn], "a lid sawn from the box", "sawn"),
        (
            &["groove_depth", "side_play", "thickness_play", "below_rim"],
            &[Sliding],
            "a sliding lid",
            "sliding",
        ),
        (&["thickness"], &[Frame, Slab, Sliding], "a frame, slab or sliding lid", "slab"),
        (&["wood", "rings"], &[Frame, Slab, Sliding], "a frame, slab or sliding lid", "slab"),
        (&["strips", "sheet", "veneered"], &[Slab, Sliding], "a slab or sliding lid", "slab"),
        (&["overhang"], &[Frame, Slab], "a frame or slab", "slab"),
    ];
    for (keys, kinds, belongs_to, word) in table {
        if !kinds.contains(&kind) {
            section.no_use_for(keys, belongs_to, kind.words(), &format!("set kind = \"{word}\""));
        }
    }
}

fn frame(section: &Section<'_>, walls: &WoodUse) -> Frame {
    let woods = if section.has("woods") {
        section.no_use_for(
            &["wood", "rings"],
            "a frame of one wood",
            "`woods` names one for each member",
            "remove `woods`",
        );
        let list = section.each("woods", &["wood", "rings"]);
        if section.value("woods").and_then(|v| v.list()).is_some_and(|l| l.is_empty() || l.len() > 12) {
            section.note(
                "woods",
                "`woods` must name one wood for each member",
                "write woods = [ { wood = \"cherry\" }, … ] in the order front, right, back, left",
            );
        }
        list.iter().map(|entry| wood_or(entry, walls)).collect()
    } else {
        vec![wood_or(section, walls)]
    };
    let panel = match section.section("panel", &PANEL) {
        None => FramePanel {
            build: Build::Sheet(usual::SHEET.to_owned()),
            thickness: usual::PANEL_THICKNESS,
            hold: PanelHold::Rabbeted { depth: usual::PANEL_DEPTH },
        },
        Some(inner) => {
            let build = build(&inner, walls, Otherwise::Sheet);
            FramePanel {
                thickness: inner.positive_or("thickness", usual::PANEL_THICKNESS),
                hold: frame_panel_hold(&inner, &build),
                build,
            }
        }
    };
    let keys = ["wood", "rings", "thickness", "depth", "skin"];
    Frame {
        woods,
        member: section.positive_or("member", usual::FRAME_MEMBER),
        thickness: section.positive_or("thickness", usual::LID_THICKNESS),
        keys: section.section("keys", &keys).map(|k| frame_keys(&k, walls)),
        panel,
    }
}

fn top(section: &Section<'_>, walls: &WoodUse) -> SawnTop {
    let Some(inner) = section.section("top", &PANEL) else {
        return SawnTop {
            build: Build::Sheet(usual::SHEET.to_owned()),
            thickness: usual::TOP_THICKNESS,
            hold: PanelHold::Rabbeted { depth: usual::TOP_DEPTH },
        };
    };
    let build = build(&inner, walls, Otherwise::Sheet);
    SawnTop {
        thickness: inner.positive_or("thickness", usual::TOP_THICKNESS),
        hold: top_hold(&inner, &build),
        build,
    }
}

/// How the lid finds its place; contradictions with hinges and lining are noted.
fn registration(section: &Section<'_>, kind: Kind, root: &Section<'_>) -> Registration {
    let has_hinges = root.has("hinges");
    let usual_way = kind.usual_register(has_hinges);
    let register = section.choice_or(
        "registration",
        &[
            ("none", Register::None),
            ("lip", Register::Lip),
            ("rabbet", Register::Rabbet),
            ("lining", Register::Lining),
            ("hinges", Register::Hinges),
        ],
        usual_way,
    );
    if section.page.is_noted("lid.kind") {
        return Registration::None;
    }
    if matches!(kind, Kind::None | Kind::Sliding) && register != Register::None {
        section.note(
            "registration",
            format!("`registration` belongs to a lid that lies on the box, but {}", kind.words()),
            "remove `registration`, or set kind = \"slab\"",
        );
        return Registration::None;
    }
    if register == Register::Hinges && !has_hinges {
        section.note(
            "registration",
            "the lid turns on hinges, but no hinges are stated",
            "add a section [hinges], or choose another registration",
        );
    }
    let inside = root.section_keys("inside");
    if register == Register::Lining && !inside.iter().any(|key| key == "lining") {
        section.note(
            "registration",
            "the lid fits over the lining, but no lining is stated",
            "add a section [inside.lining], or choose another registration",
        );
    }
    if register != Register::Lip {
        section.no_use_for(
            &["lip_height", "lip_thickness", "lip_play"],
            "a lid with a lip",
            "this lid has none",
            "set registration = \"lip\"",
        );
    }
    if register != Register::Rabbet {
        section.no_use_for(
            &["rabbet_depth", "rabbet_play"],
            "a lid with a rabbet",
            "this lid has none",
            "set registration = \"rabbet\"",
        );
    }
    match register {
        Register::None => Registration::None,
        Register::Lip => Registration::Lip {
            height: section.positive_or("lip_height", usual::LIP_HEIGHT),
            thickness: section.positive_or("lip_thickness", usual::LIP_THICKNESS),
            play: section.length_or("lip_play", usual::LIP_PLAY),
        },
        Register::Rabbet => Registration::Rabbet {
            depth: section.positive_or("rabbet_depth", usual::LID_RABBET_DEPTH),
            play: section.length_or("rabbet_play", usual::LID_RABBET_PLAY),
        },
        Register::Lining => Registration::Lining,
        Register::Hinges => Registration::Hinges,
    }
}
