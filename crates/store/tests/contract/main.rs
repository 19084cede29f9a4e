//! What any store must do, said through public methods only: no SQL, no files. Another kind of store is held to
//! these tests by another `store()` in `common`.

#[path = "../common/mod.rs"]
mod common;

mod boards;
mod devices;
mod documents;
mod laws;
mod runs;
mod small;
mod threads;
mod versions;
