//! Opening a folder whose database is damaged: a backup takes its place, the damaged file is kept aside.

use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use crate::backup::{self, make_ready, stamped};
use crate::error::{Error, OpenError};
use crate::files::{self, SIDE_FILES, Scratch};
use crate::open::{BACKUPS, DATABASE, Store, lock};
use crate::time::Time;

impl Store {
    /// Puts a backup in the place of a database that does not open. The damaged file, with those beside it, is
    /// moved into a folder of its own in the shop folder, which is returned. Then [`Store::open`] opens it.
    ///
    /// # Errors
    /// [`OpenError`] when the folder is in use or there is no such backup, or it is damaged too; then nothing is
    /// changed.
    pub fn mend(folder: &Path, name: &str, now: Time) -> Result<PathBuf, OpenError> {
        let _lock = lock(folder)?;
        let file = folder.join(DATABASE);
        let other = |error: Error| OpenError::Other { file: file.clone(), says: error.to_string() };
        let known = backup::list(folder).map_err(other)?.into_iter().find(|backup| backup.name == name);
        let known = known.ok_or_else(|| other(Error::NoBackup { name: name.to_owned() }))?;
        let from = folder.join(BACKUPS).join(known.name);
        let scratch = Scratch::new(folder);
        fs::copy(&from, scratch.file()).map_err(|error| other(Error::file(&from, &error)))?;
        make_ready(scratch.file(), name).map_err(other)?;
        let aside = folder.join(stamped("damaged", now));
        fs::create_dir_all(&aside).map_err(|error| other(Error::file(&aside, &error)))?;
        for ending in SIDE_FILES {
            let name = format!("{DATABASE}{ending}");
            match fs::rename(folder.join(&name), aside.join(&name)) {
                Err(error) if error.kind() != ErrorKind::NotFound => {
                    return Err(other(Error::file(&folder.join(name), &error)));
                }
                _ => {}
            }
        }
        files::sync_file(scratch.file())
            .and_then(|()| files::put_in_place(scratch.file(), &file))
            .map_err(|error| other(Error::file(&file, &error)))?;
        Ok(aside)
    }
}
