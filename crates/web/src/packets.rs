//! Packets being made and made: each on a thread of its own, kept in memory only, and soon forgotten.

use crate::clock;
use crate::planner::{self, Boards, Ground};
use keepwright_model::shop::schedule::Day;
use keepwright_packet::packet::{OutFile, Progress, files_and_pages};
use keepwright_packet::page::Paper;
use keepwright_packet::preview::PagePicture;
use keepwright_packet::sheets::PacketSettings;
use keepwright_store::{DocumentId, Version};
use std::collections::BTreeMap;
use std::io::{Cursor, Write as _};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipWriter};

/// Packets that are made at once; each keeps one processor busy.
pub(crate) const MOST_AT_ONCE: usize = 2;
/// Packets that are kept.
pub(crate) const MOST_KEPT: usize = 8;
/// How long a packet is kept.
pub(crate) const KEPT_FOR: Duration = Duration::from_hours(1);

/// All packets that are kept.
#[derive(Debug, Default)]
pub(crate) struct Packets(Mutex<Kept>);

#[derive(Debug, Default)]
struct Kept {
    last: i64,
    jobs: BTreeMap<i64, Arc<Job>>,
}

/// What a packet is made of.
#[derive(Debug)]
pub(crate) struct Order {
    /// The box's address.
    pub(crate) slug: String,
    /// The version of its statement.
    pub(crate) version: Version,
    /// The paper.
    pub(crate) paper: Paper,
    /// The shop and the boards that the box may use.
    pub(crate) ground: Ground,
    /// The day by which it must be done.
    pub(crate) due: Option<Day>,
}

/// A packet under way or made.
#[derive(Debug)]
pub(crate) struct Job {
    /// Its number, as in its address.
    pub(crate) number: i64,
    /// The box.
    pub(crate) document: DocumentId,
    /// The version of its statement.
    pub(crate) version: Version,
    /// The paper.
    pub(crate) paper: Paper,
    /// When it was begun, seconds since 1970.
    pub(crate) at: i64,
    begun: Instant,
    state: Mutex<State>,
}

/// How far a packet is.
#[derive(Clone, Debug)]
pub(crate) enum State {
    /// The box is planned: boards, set-ups, everything that the sheets rest on.
    Planning,
    /// Sheets and files are made.
    Making(Progress),
    /// It is there.
    Done(Arc<Packet>),
    /// It cannot be made.
    Failed {
        /// What is wrong.
        says: String,
        /// What to do.
        remedy: String,
    },
}

/// A packet.
#[derive(Debug)]
pub(crate) struct Packet {
    /// Every file by itself.
    pub(crate) files: Vec<OutFile>,
    /// All of them, and the statement, in one archive.
    pub(crate) zip: Vec<u8>,
    /// The printed pages as pictures.
    pub(crate) pages: Vec<PagePicture>,
}

impl Packets {
    fn kept(&self) -> MutexGuard<'_, Kept> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Begins a packet, or goes on with one of the same version and paper that is under way; `None` when too many are.
    pub(crate) fn begin(&self, order: Order) -> Option<Arc<Job>> {
        let mut kept = self.kept();
        kept.forget_old(clock::instant());
        let running: Vec<Arc<Job>> = kept.jobs.values().filter(|j| j.is_running()).cloned().collect();
        let same = |j: &&Arc<Job>| j.version.id == order.version.id && j.paper == order.paper;
        if let Some(job) = running.iter().find(same) {
            return Some(Arc::clone(job));
        }
        if running.len() >= MOST_AT_ONCE {
            return None;
        }
        let at = clock::now();
        // After a restart no address leads to another packet than the one it was given for.
        kept.last = at.max(kept.last + 1);
        let job = Arc::new(Job {
            number: kept.last,
            document: order.version.document,
            version: order.version.clone(),
            paper: order.paper,
            at,
            begun: clock::instant(),
            state: Mutex::new(State::Planning),
        });
        kept.jobs.insert(job.number, Arc::clone(&job));
        kept.forget_old(clock::instant());
        drop(kept);
        let maker = Arc::clone(&job);
        std::thread::spawn(move || {
            let made = catch_unwind(AssertUnwindSafe(|| make(&maker, &order)));
            let state = made.unwrap_or_else(|_| State::Failed {
                says: "the packet could not be made, by a fault of this program".to_owned(),
                remedy: "keep the statement as a file and report it; the box itself is unharmed".to_owned(),
            });
            maker.set(state);
        });
        Some(job)
    }

    /// The packet of a number, if it is still kept.
    pub(crate) fn job(&self, number: i64) -> Option<Arc<Job>> {
        let mut kept = self.kept();
        kept.forget_old(clock::instant());
        kept.jobs.get(&number).cloned()
    }

    /// The packets of a box, the newest first.
    pub(crate) fn of(&self, document: DocumentId) -> Vec<Arc<Job>> {
        let mut kept = self.kept();
        kept.forget_old(clock::instant());
        kept.jobs.values().rev().filter(|j| j.document == document).cloned().collect()
    }

    /// Forgets every packet: another shop has taken this one's place.
    pub(crate) fn forget_all(&self) {
        self.kept().jobs.clear();
    }
}

impl Kept {
    /// Forgets what is too old, and the oldest of what is too many; what is under way stays.
    fn forget_old(&mut self, now: Instant) {
        self.jobs.retain(|_, job| job.is_running() || now.saturating_duration_since(job.begun) < KEPT_FOR);
        while self.jobs.len() > MOST_KEPT {
            let Some(oldest) = self.jobs.values().find(|j| !j.is_running()).map(|j| j.number) else { break };
            self.jobs.remove(&oldest);
        }
    }
}

impl Job {
    /// How far it is.
    pub(crate) fn state(&self) -> State {
        self.state.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }

    fn set(&self, state: State) {
        *self.state.lock().unwrap_or_else(PoisonError::into_inner) = state;
    }

    fn is_running(&self) -> bool {
        matches!(self.state(), State::Planning | State::Making(_))
    }
}

fn make(job: &Job, order: &Order) -> State {
    let text = &order.version.text;
    let plan = match planner::planned(text, &order.ground, Boards::Rack, order.due) {
        Ok(plan) => plan,
        Err(problems) => {
            let first = problems.first();
            return State::Failed {
                says: format!(
                    "the box cannot be planned: {}",
                    first.map_or("its statement has a problem", |p| p.says.as_str())
                ),
                remedy: first.map_or_else(|| "mend its statement first".to_owned(), |p| p.remedy.clone()),
            };
        }
    };
    // A clock that is beyond the calendar leaves the pages without a date.
    let date = clock::today().map_or_else(|_| String::new(), |day| day.to_string());
    let settings = PacketSettings { paper: order.paper, date };
    let made = files_and_pages(&plan, &settings, &mut |progress| job.set(State::Making(progress)));
    let broken = |says: String| State::Failed {
        says,
        remedy: "keep the statement as a file and report it; the box itself is unharmed".to_owned(),
    };
    let (files, pages) = match made {
        Ok(made) => made,
        Err(error) => return broken(error.to_string()),
    };
    match zipped(&order.slug, &files, text) {
        Ok(zip) => State::Done(Arc::new(Packet { files, zip, pages })),
        Err(error) => broken(format!("the files could not be packed: {error}")),
    }
}

/// All files in a folder of the box's name, the statement that they were made from beside them; the same files give the
/// same bytes, for no time is written.
fn zipped(folder: &str, files: &[OutFile], statement: &str) -> Result<Vec<u8>, zip::result::ZipError> {
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    let packed = SimpleFileOptions::default().compression_method(CompressionMethod::Deflated);
    let all = files.iter().map(|f| (f.path.as_str(), f.bytes.as_slice()));
    for (path, bytes) in all.chain([("statement.toml", statement.as_bytes())]) {
        zip.start_file(format!("{folder}/{path}"), packed)?;
        zip.write_all(bytes)?;
    }
    Ok(zip.finish()?.into_inner())
}

#[cfg(test)]
mod tests {
    use super::*;
    use keepwright_model::job::Shop;
    use keepwright_store::{Time, VersionId};

    fn version(id: i64) -> Version {
        Version {
            id: VersionId::new(id),
            document: DocumentId::new(1),
            number: id,
            parent: None,
            redo: None,
            text: String::new(),
            says: String::new(),
            by: String::new(),
            at: Time::seconds(0),
        }
    }

    fn order(id: i64, paper: Paper) -> Order {
        let ground = Ground { shop: Shop::small_shop(), rack: Vec::new() };
        Order { slug: "a".to_owned(), version: version(id), paper, ground, due: None }
    }

    /// Puts a packet there that nobody works on.
    fn put(packets: &Packets, number: i64, state: State) {
        let job = Job {
            number,
            document: DocumentId::new(1),
            version: version(number),
            paper: Paper::A4,
            at: 0,
            begun: clock::instant(),
            state: Mutex::new(state),
        };
        packets.kept().jobs.insert(number, Arc::new(job));
    }

    fn failed() -> State {
        State::Failed { says: String::new(), remedy: String::new() }
    }

    #[test]
    fn few_are_made_at_once_and_a_second_press_is_the_same_packet() {
        let packets = Packets::default();
        put(&packets, 1, State::Planning);
        put(&packets, 3, State::Planning);
        assert!(packets.begin(order(5, Paper::A4)).is_none(), "a third at once");
        assert!(packets.begin(order(1, Paper::Letter)).is_none(), "another paper is another packet");
        assert_eq!(packets.begin(order(1, Paper::A4)).map(|job| job.number), Some(1));
        packets.job(1).expect("kept").set(failed());
        assert!(packets.begin(order(5, Paper::A4)).is_some(), "room again");
    }

    #[test]
    fn few_are_kept_and_not_for_long_but_none_is_lost_while_it_is_made() {
        let packets = Packets::default();
        put(&packets, 1, State::Planning);
        for number in 2..=12 {
            put(&packets, number, failed());
        }
        let numbers = |of: Vec<Arc<Job>>| of.iter().map(|job| job.number).collect::<Vec<_>>();
        assert_eq!(numbers(packets.of(DocumentId::new(1))), [12, 11, 10, 9, 8, 7, 6, 1]);
        assert!(packets.of(DocumentId::new(2)).is_empty(), "another box");
        packets.kept().forget_old(clock::instant() + KEPT_FOR);
        assert_eq!(numbers(packets.of(DocumentId::new(1))), [1]);
        packets.forget_all();
        assert!(packets.job(1).is_none());
    }
}
