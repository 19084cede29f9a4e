//! Who gets in: codes are used once and expire, wrong ones are slowed, dismissed devices stay out.

use crate::common::{noon, store};
use keepwright_store::{Error, Paired, Place, Rights, Source, Store, Time};

const TABLET: Source<'_> = Source::Lan("192.168.1.20");

fn offer(store: &Store, code: &str, rights: Rights) {
    store.offer_pairing(code, Place::Lan, rights, noon().plus(600), noon()).unwrap();
}

fn pair(store: &Store, code: &str, token: &str, at: Time) -> Paired {
    store.pair(code, "Tablet", token, TABLET, at).unwrap()
}

#[test]
fn a_code_lets_one_device_in_once() {
    let store = store();
    offer(&store, "right", Rights::Look);
    let Paired::In(device) = pair(&store, "right", "t1", noon()) else { panic!("not in") };
    assert_eq!((device.name.as_str(), device.rights, device.place), ("Tablet", Rights::Look, Place::Lan));
    assert!(matches!(pair(&store, "right", "t2", noon()), Paired::Wrong(_)), "used up");
    assert_eq!(store.device_by_token("t1", noon()).unwrap().map(|d| d.id), Some(device.id));
    assert_eq!(store.device_by_token("t2", noon()).unwrap(), None);
    assert_eq!(store.device_by_token("", noon()).unwrap(), None);
    let again = store.offer_pairing("right", Place::Lan, Rights::Full, noon().plus(9), noon());
    assert_eq!(again, Err(Error::CodeTaken), "a used code cannot be made good again with more rights");
}

#[test]
fn a_code_expires_and_can_be_withdrawn() {
    let store = store();
    offer(&store, "old", Rights::Full);
    assert!(matches!(pair(&store, "old", "t", noon().plus(600)), Paired::Wrong(_)));
    offer(&store, "taken back", Rights::Full);
    store.withdraw_pairings().unwrap();
    assert!(matches!(pair(&store, "taken back", "t", noon()), Paired::Wrong(_)));
}

#[test]
fn of_many_who_come_with_one_code_at_once_one_gets_in() {
    let store = store();
    offer(&store, "right", Rights::Full);
    let got: usize = std::thread::scope(|scope| {
        let tries: Vec<_> = (0..20)
            .map(|number| {
                let store = store.store.clone();
                scope.spawn(move || {
                    let (token, from) = (format!("t{number}"), format!("10.0.0.{number}"));
                    let paired = store.pair("right", "Tablet", &token, Source::Lan(&from), noon());
                    usize::from(matches!(paired, Ok(Paired::In(_))))
                })
            })
            .collect();
        tries.into_iter().map(|each| each.join().unwrap()).sum()
    });
    assert_eq!(got, 1);
    assert_eq!(store.devices().unwrap().len(), 1);
}

#[test]
fn wrong_codes_are_slowed_longer_and_longer() {
    let store = store();
    let mut now = noon();
    let mut waits = Vec::new();
    while waits.len() < 12 {
        match pair(&store, "guess", "t", now) {
            Paired::Wrong(lock) => {
                let wait = lock.until.map_or(0, |until| until.to_seconds() - now.to_seconds());
                waits.push(wait);
                if wait > 0 {
                    // Not a second too early, not even with the right code.
                    store
                        .offer_pairing(&format!("right {now}"), Place::Lan, Rights::Full, now.plus(9999), now)
                        .unwrap();
                    let early = pair(&store, &format!("right {now}"), "t", now.plus(wait - 1));
                    assert!(matches!(early, Paired::Locked { .. }), "{early:?}");
                }
                now = now.plus(wait);
            }
            other => panic!("{other:?}"),
        }
    }
    assert_eq!(waits, [0, 0, 0, 30, 60, 120, 240, 480, 960, 1920, 3600, 3600]);
    // Forgotten after a day without a wrong one.
    assert!(
        matches!(pair(&store, "guess", "t", now.plus(90_000)), Paired::Wrong(lock) if lock.failures == 1)
    );
}

#[test]
fn a_guesser_with_many_addresses_is_locked_out_but_not_this_machine() {
    let store = store();
    for number in 0..21 {
        let from = format!("10.0.0.{number}");
        let got = store.pair("guess", "X", "t", Source::Lan(&from), noon()).unwrap();
        assert!(matches!(got, Paired::Wrong(_)), "{number}: {got:?}");
    }
    offer(&store, "right", Rights::Full);
    let got = store.pair("right", "X", "t", Source::Lan("10.0.9.9"), noon()).unwrap();
    assert!(matches!(got, Paired::Locked { .. }), "{got:?}");
    store.offer_pairing("mine", Place::Here, Rights::Full, noon().plus(60), noon()).unwrap();
    let got = store.pair("mine", "This machine", "t", Source::Here, noon()).unwrap();
    assert!(matches!(got, Paired::In(_)), "{got:?}");
}

#[test]
fn a_code_for_this_machine_lets_nobody_in_from_the_network() {
    let store = store();
    store.offer_pairing("mine", Place::Here, Rights::Full, noon().plus(60), noon()).unwrap();
    assert!(matches!(pair(&store, "mine", "t", noon()), Paired::Wrong(_)));
    let here = store.pair("mine", "This machine", "t", Source::Here, noon()).unwrap();
    assert!(matches!(here, Paired::In(device) if device.place == Place::Here));
}

#[test]
fn a_dismissed_device_stays_out() {
    let store = store();
    offer(&store, "right", Rights::Full);
    let Paired::In(device) = pair(&store, "right", "t", noon()) else { panic!("not in") };
    let later = noon().plus(61);
    store.device_by_token("t", later).unwrap().expect("in");
    assert_eq!(store.devices().unwrap()[0].last_seen, later);
    assert!(store.dismiss(device.id, later).unwrap());
    assert!(!store.dismiss(device.id, later).unwrap());
    assert_eq!(store.device_by_token("t", later).unwrap(), None);
    assert_eq!(store.devices().unwrap()[0].dismissed_at, Some(later));
    // Its token cannot be paired again either.
    offer(&store, "another", Rights::Full);
    assert_eq!(store.pair("another", "Tablet", "t", TABLET, later), Err(Error::CodeTaken));
    assert!(
        matches!(pair(&store, "another", "t2", later), Paired::In(_)),
        "the code was not used up by that"
    );
}
