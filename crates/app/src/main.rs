//! The `keepwright` program: parse the command line, dispatch, turn errors into exit codes.
fn main() {}
