//! Who gets in: one-time pairing codes, paired devices, and locks after wrong codes.
//!
//! Codes and tokens are made by the caller from a good source of chance, 128 bits or more; here only their
//! SHA-256 is kept, so a copied database lets nobody in. This machine's own browser is paired in the same way,
//! by a code in the address that the program opens: one way in, one test of it, and it can be dismissed too.

use rusqlite::{Connection, OptionalExtension, Row, params};
use sha2::{Digest, Sha256};

use crate::documents::{good_name, must_be_short};
use crate::error::Error;
use crate::ids::DeviceId;
use crate::open::Store;
use crate::rows::{id, time, word, words};
use crate::time::Time;

/// The longest code, token or source, in bytes.
const MOST_SECRET: usize = 200;
/// Wrong codes from one source that cost nothing.
const FREE_TRIES: i64 = 3;
/// Wrong codes from all sources together that cost nothing: a guesser may change its address.
const FREE_TRIES_ALL: i64 = 20;
/// The source that stands for all of them.
const ALL: &str = "*";
/// The first lock, in seconds; each further wrong code doubles it.
const FIRST_LOCK: i64 = 30;
/// The longest lock, in seconds.
const LONGEST_LOCK: i64 = 3600;
/// Wrong codes are forgotten when so many seconds pass without another.
const FORGOTTEN: i64 = 86_400;
/// A browser of this machine that did not come for so many seconds is forgotten when the next one pairs.
const HERE_FORGOTTEN: i64 = 30 * 86_400;

words! {
    /// Where a device is.
    Place {
        /// A browser of this machine.
        Here = "here",
        /// Another device in the shop's network.
        Lan = "lan",
    }
}

words! {
    /// What a device may do.
    Rights {
        /// Look, and tick beside the saw.
        Look = "look",
        /// Everything.
        Full = "full",
    }
}

/// A paired device.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Device {
    /// Its number.
    pub id: DeviceId,
    /// Its name.
    pub name: String,
    /// Where it is.
    pub place: Place,
    /// What it may do.
    pub rights: Rights,
    /// When it was paired.
    pub paired_at: Time,
    /// When it came last.
    pub last_seen: Time,
    /// When it was dismissed; it does not get in any more.
    pub dismissed_at: Option<Time>,
}

/// Where a try to pair comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Source<'a> {
    /// A browser of this machine. Wrong codes from elsewhere do not lock it out.
    Here,
    /// This address in the shop's network. It cannot use a code made for this machine.
    Lan(&'a str),
}

/// What became of a try to pair.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Paired {
    /// The code was right, and is used up.
    In(Device),
    /// The code was wrong, used or too old; further tries may have to wait.
    Wrong(Lock),
    /// Too many wrong codes: this one was not even looked at.
    Locked {
        /// When the next try is looked at.
        until: Time,
    },
}

/// What a wrong code brought.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Lock {
    /// Wrong codes of this source so far.
    pub failures: i64,
    /// When its next try is looked at; none if at once.
    pub until: Option<Time>,
}

impl Store {
    /// Makes a pairing code good until a time, once.
    ///
    /// # Errors
    /// [`Error::CodeTaken`] for a code that was made before, [`Error::TooLong`], or the database's.
    pub fn offer_pairing(
        &self,
        code: &str,
        place: Place,
        rights: Rights,
        until: Time,
        now: Time,
    ) -> Result<(), Error> {
        must_be_short("the code", code, MOST_SECRET)?;
        self.write(|db| {
            let old = now.plus(-FORGOTTEN).to_seconds();
            db.execute("DELETE FROM pairing WHERE expires_at < ?1", [old])?;
            let added = db.execute(
                "INSERT INTO pairing (code_hash, place, rights, made_at, expires_at)
                 VALUES (?1, ?2, ?3, ?4, ?5) ON CONFLICT DO NOTHING",
                params![hash(code), place.word(), rights.word(), now.to_seconds(), until.to_seconds()],
            )?;
            if added == 0 { Err(Error::CodeTaken) } else { Ok(()) }
        })
    }

    /// Withdraws all codes that were not used yet.
    ///
    /// # Errors
    /// The database's.
    pub fn withdraw_pairings(&self) -> Result<(), Error> {
        self.write(|db| {
            db.execute("DELETE FROM pairing WHERE used_at IS NULL", [])?;
            Ok(())
        })
    }

    /// Pairs a device by a code: checks it, uses it up and lets in the token, in one step, so that of two who
    /// come with the same code one gets in. Wrong codes are counted by source, those of the network also together.
    ///
    /// # Errors
    /// [`Error::NoName`], [`Error::TooLong`], [`Error::CodeTaken`] for a token that another device has, or the
    /// database's. A wrong code is no error, but [`Paired::Wrong`].
    pub fn pair(
        &self,
        code: &str,
        name: &str,
        token: &str,
        source: Source<'_>,
        now: Time,
    ) -> Result<Paired, Error> {
        let name = good_name(name)?;
        must_be_short("the token", token, MOST_SECRET)?;
        must_be_short("the source", source.name(), MOST_SECRET)?;
        self.write(|db| {
            if let Some(until) = locked(db, source, now)? {
                return Ok(Paired::Locked { until });
            }
            let used: Option<(String, String)> = db
                .query_row(
                    "UPDATE pairing SET used_at = ?2
                     WHERE code_hash = ?1 AND used_at IS NULL AND expires_at > ?2
                       AND (place = 'lan' OR ?3) RETURNING place, rights",
                    params![hash(code), now.to_seconds(), source == Source::Here],
                    |row| Ok((row.get(0)?, row.get(1)?)),
                )
                .optional()?;
            let Some((place, rights)) = used else {
                return Ok(Paired::Wrong(fail(db, source, now)?));
            };
            db.execute("DELETE FROM failure WHERE source = ?1", [source.name()])?;
            let idle = now.plus(-HERE_FORGOTTEN).to_seconds();
            db.execute("DELETE FROM device WHERE place = 'here' AND last_seen < ?1", [idle])?;
            let added = db.execute(
                "INSERT INTO device (name, token_hash, place, rights, paired_at, last_seen)
                 VALUES (?1, ?2, ?3, ?4, ?5, ?5) ON CONFLICT DO NOTHING",
                params![name, hash(token), place, rights, now.to_seconds()],
            )?;
            if added == 0 {
                return Err(Error::CodeTaken);
            }
            Ok(Paired::In(load(db, DeviceId::new(db.last_insert_rowid()))?))
        })
    }

    /// The device with a token, unless it is dismissed. Notes that it came, at most once a minute.
    ///
    /// # Errors
    /// The database's.
    pub fn device_by_token(&self, token: &str, now: Time) -> Result<Option<Device>, Error> {
        let found = self.read(|db| {
            let sql = "SELECT * FROM device WHERE token_hash = ?1 AND dismissed_at IS NULL";
            Ok(db.prepare_cached(sql)?.query_row([hash(token)], device).optional()?)
        })?;
        if let Some(device) = &found
            && device.last_seen.plus(60) <= now
        {
            self.write(|db| {
                let sql = "UPDATE device SET last_seen = max(last_seen, ?2) WHERE id = ?1";
                db.execute(sql, params![device.id.get(), now.to_seconds()])?;
                Ok(())
            })?;
        }
        Ok(found)
    }

    /// All devices, last paired first, with those dismissed.
    ///
    /// # Errors
    /// The database's.
    pub fn devices(&self) -> Result<Vec<Device>, Error> {
        self.read(|db| {
            let mut rows = db.prepare_cached("SELECT * FROM device ORDER BY paired_at DESC, id DESC")?;
            Ok(rows.query_map([], device)?.collect::<Result<_, _>>()?)
        })
    }

    /// Dismisses a device: its token does not get in any more. Whether there was such a device with a way in.
    ///
    /// # Errors
    /// The database's.
    pub fn dismiss(&self, id: DeviceId, now: Time) -> Result<bool, Error> {
        self.write(|db| {
            let sql = "UPDATE device SET dismissed_at = ?2 WHERE id = ?1 AND dismissed_at IS NULL";
            Ok(db.execute(sql, params![id.get(), now.to_seconds()])? == 1)
        })
    }
}

impl Source<'_> {
    /// Under which wrong codes are counted.
    fn name(&self) -> &str {
        match self {
            Self::Here => "here",
            Self::Lan(address) => address,
        }
    }

    /// Under which they are counted besides.
    fn together(&self) -> &str {
        match self {
            Self::Here => self.name(),
            Self::Lan(_) => ALL,
        }
    }
}

/// Until when a source, or all of the network, must wait.
fn locked(db: &Connection, source: Source<'_>, now: Time) -> Result<Option<Time>, Error> {
    let until: Option<i64> = db.query_row(
        "SELECT max(locked_until) FROM failure WHERE source IN (?1, ?2) AND locked_until > ?3",
        params![source.name(), source.together(), now.to_seconds()],
        |row| row.get(0),
    )?;
    Ok(until.map(Time::seconds))
}

/// Counts a wrong code for its source, and for all of the network together.
fn fail(db: &Connection, source: Source<'_>, now: Time) -> Result<Lock, Error> {
    db.execute("DELETE FROM failure WHERE last_at < ?1", [now.plus(-FORGOTTEN).to_seconds()])?;
    let one = count(db, source.name(), FREE_TRIES, now)?;
    match source {
        Source::Here => Ok(one),
        Source::Lan(_) => {
            let all = count(db, ALL, FREE_TRIES_ALL, now)?;
            Ok(Lock { failures: one.failures, until: one.until.max(all.until) })
        }
    }
}

/// Counts one more wrong code in a row of the table.
fn count(db: &Connection, source: &str, free: i64, now: Time) -> Result<Lock, Error> {
    let before: Option<i64> =
        db.query_row("SELECT count FROM failure WHERE source = ?1", [source], |row| row.get(0)).optional()?;
    let failures = before.unwrap_or(0).saturating_add(1);
    let wait = lock_after(failures - free);
    let until = (wait > 0).then(|| now.plus(wait));
    db.execute(
        "INSERT INTO failure (source, count, last_at, locked_until) VALUES (?1, ?2, ?3, ?4)
         ON CONFLICT (source) DO UPDATE
         SET count = excluded.count, last_at = excluded.last_at, locked_until = excluded.locked_until",
        params![source, failures, now.to_seconds(), until.map_or(0, Time::to_seconds)],
    )?;
    Ok(Lock { failures, until })
}

/// How long to wait after so many wrong codes beyond the free ones, in seconds.
fn lock_after(beyond: i64) -> i64 {
    match u32::try_from(beyond) {
        Ok(0) | Err(_) => 0,
        Ok(beyond) => FIRST_LOCK.saturating_mul(2_i64.saturating_pow(beyond - 1)).min(LONGEST_LOCK),
    }
}

/// A device by its number.
fn load(db: &Connection, id: DeviceId) -> Result<Device, Error> {
    Ok(db.query_row("SELECT * FROM device WHERE id = ?1", [id.get()], device)?)
}

/// What is kept of a secret.
fn hash(secret: &str) -> Vec<u8> {
    Sha256::digest(secret.as_bytes()).to_vec()
}

/// Bytes as digits.
pub(crate) fn hex(bytes: &[u8]) -> String {
    const DIGITS: &[u8; 16] = b"0123456789abcdef";
    let digit = |half: u8| char::from(DIGITS[usize::from(half & 15)]);
    bytes.iter().flat_map(|&byte| [digit(byte >> 4), digit(byte)]).collect()
}

/// A device from its row.
fn device(row: &Row<'_>) -> rusqlite::Result<Device> {
    Ok(Device {
        id: id(row, "id", DeviceId::new)?,
        name: row.get("name")?,
        place: word(row, "place", Place::from_word)?,
        rights: word(row, "rights", Rights::from_word)?,
        paired_at: time(row, "paired_at")?,
        last_seen: time(row, "last_seen")?,
        dismissed_at: row.get::<_, Option<i64>>("dismissed_at")?.map(Time::seconds),
    })
}
