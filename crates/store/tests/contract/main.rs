//! What any store must do, said through public methods only: no SQL, no files. Another kind of store is held to
//! these tests by another `store()` in `common`.

#[cfg(test)]
#[path = "../common/mod.rs"]
mod common;

#[cfg(test)]
mod boards;
#[cfg(test)]
mod devices;
#[cfg(test)]
mod documents;
#[cfg(test)]
mod laws;
#[cfg(test)]
mod runs;
#[cfg(test)]
mod small;
#[cfg(test)]
mod threads;
#[cfg(test)]
mod versions;
