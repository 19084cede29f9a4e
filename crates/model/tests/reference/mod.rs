//! The examples of the statement's reference, which the reader and its fuzzing start from.

/// The blocks of the reference, each made whole by a head, a size and walls where it has none.
pub(crate) fn examples() -> Vec<String> {
    let reference = include_str!("../../../../docs/statement.md");
    let blocks = reference.split("```toml\n").skip(1);
    blocks
        .map(|block| {
            let block = block.split("```").next().unwrap_or("");
            let mut whole = String::new();
            if !block.contains("keepwright =") {
                whole.push_str("keepwright = 1\n");
            }
            whole.push_str(block);
            if !block.contains("[size") {
                whole.push_str("\n[size]\noutside = { length = 200, depth = 120, height = 80 }\n");
            }
            if !block.contains("[walls]") {
                whole.push_str("\n[walls]\nwood = \"cherry\"\n");
            }
            whole
        })
        .collect()
}
