//! A timeline worked out by hand, and the laws every timeline keeps.

use super::*;
use proptest::prelude::*;

fn task(key: &str, hands_on: f64, wait: f64, after: &[usize]) -> Task {
    Task {
        key: key.into(),
        title: key.into(),
        hands_on: Minutes::minutes(hands_on),
        rounds: 1,
        between: Minutes::ZERO,
        continuity: Continuity::MayPause,
        wait: Minutes::minutes(wait),
        wait_for: "sets".into(),
        after: after.to_vec(),
        note: String::new(),
    }
}

fn eight_hours() -> Week {
    Week { hours: Minutes::hours(8.0), ..Week::usual() }
}

fn five() -> Vec<Task> {
    vec![
        task("mill", 240.0, 0.0, &[]),
        task("glue", 60.0, 1440.0, &[0]),
        task("sand", 300.0, 0.0, &[1]),
        task("coat1", 30.0, 1440.0, &[2]),
        task("coat2", 30.0, 7.0 * 1440.0, &[3]),
    ]
}

/// Whole minutes, as the scenes state them.
#[expect(clippy::cast_possible_truncation, reason = "the scenes state whole minutes")]
fn minutes(m: Minutes) -> i64 {
    m.value().round() as i64
}

/// Worked by hand: six boxes, two clamps, 30 minutes' work for a pair, an hour in clamps, nine to five. The pairs go in
/// at 15:00, 16:30 (to 17:00) and, since 18:00 is past closing, at 9:00 the next day.
#[test]
fn more_boxes_than_clamps() {
    let glue = Task { rounds: 3, between: Minutes::minutes(60.0), ..task("glue", 90.0, 1440.0, &[0]) };
    let tasks = [task("cut", 360.0, 0.0, &[]), glue];
    let got = forward(&tasks, &eight_hours(), day("2026-03-02")).unwrap().value;
    let glued = got.booked[1];
    assert_eq!(glued.start.to_string(), "2026-03-02 15:00");
    assert_eq!(glued.end.to_string(), "2026-03-03 09:30");
    assert_eq!(glued.ready.to_string(), "2026-03-04 09:30");
}

fn day(text: &str) -> Day {
    Day::parse(text).unwrap()
}

/// Worked by hand on a calendar page: 2026-03-02 is a Monday, nine to five, Monday to Friday.
/// Mill Mon 9-13; glue 13-14, set Tue 14; sand Tue 14-17 and Wed 9-11; coat Wed 11-11:30, dry Thu 11:30;
/// coat again to 12:00, cured a week later.
#[test]
fn by_hand() {
    let got = forward(&five(), &eight_hours(), day("2026-03-02")).unwrap();
    let times: Vec<(String, String, String)> = got
        .value
        .booked
        .iter()
        .map(|b| (b.start.to_string(), b.end.to_string(), b.ready.to_string()))
        .collect();
    let want = [
        ("2026-03-02 09:00", "2026-03-02 13:00", "2026-03-02 13:00"),
        ("2026-03-02 13:00", "2026-03-02 14:00", "2026-03-03 14:00"),
        ("2026-03-03 14:00", "2026-03-04 11:00", "2026-03-04 11:00"),
        ("2026-03-04 11:00", "2026-03-04 11:30", "2026-03-05 11:30"),
        ("2026-03-05 11:30", "2026-03-05 12:00", "2026-03-12 12:00"),
    ];
    assert_eq!(times, want.map(|(a, b, c)| (a.to_string(), b.to_string(), c.to_string())));
    assert_eq!(got.value.critical, [0, 1, 2, 3, 4]);
    assert!((got.value.hands_on.value() - 660.0).abs() < 1e-9);
    assert_eq!((got.value.first, got.value.last), (day("2026-03-02"), day("2026-03-12")));
    assert!(got.cautions.is_empty());
    let sanding = got.value.events.iter().find(|e| e.key == "sand").unwrap();
    assert_eq!((sanding.first, sanding.last), (day("2026-03-03"), day("2026-03-04")));
}

/// By hand: begun on Tuesday it ends on Friday the 13th; begun on Wednesday the second coat falls on Monday the
/// 9th (the first is dry on Saturday) and the end on Monday the 16th.
#[test]
fn back_from_a_due_date() {
    for (due, first, last) in [
        ("2026-03-12", "2026-03-02", "2026-03-12"),
        ("2026-03-13", "2026-03-03", "2026-03-13"),
        ("2026-03-15", "2026-03-03", "2026-03-13"),
        ("2026-03-16", "2026-03-04", "2026-03-16"),
    ] {
        let got = backward(&five(), &eight_hours(), day(due), Some(day("2026-03-01"))).unwrap();
        assert_eq!((got.value.first, got.value.last), (day(first), day(last)), "due {due}");
        assert!(got.cautions.is_empty(), "due {due}");
    }
    let late = backward(&five(), &eight_hours(), day("2026-03-12"), Some(day("2026-03-05"))).unwrap();
    assert_eq!(late.cautions[0].code, "starts-in-the-past");
    assert!(late.cautions[0].says.contains("3 days before 2026-03-05"), "{}", late.cautions[0].says);
}

/// By hand: a glue-up of 90 minutes does not begin at 16:00 but the next morning, after a Friday on Monday, and
/// the lid's sanding fills the hour.
#[test]
fn open_glue_does_not_sleep() {
    let mut tasks =
        vec![task("cut", 420.0, 0.0, &[]), task("glue", 90.0, 60.0, &[0]), task("lid", 60.0, 0.0, &[])];
    tasks[1].continuity = Continuity::InOneGo;
    // Friday.
    let got = forward(&tasks, &eight_hours(), day("2026-03-06")).unwrap().value;
    let start = |t: usize| got.booked.iter().find(|b| b.task == t).unwrap().start.to_string();
    assert_eq!(start(0), "2026-03-06 09:00");
    assert_eq!(start(2), "2026-03-06 16:00");
    assert_eq!(start(1), "2026-03-09 09:00");
    tasks[1].hands_on = Minutes::minutes(500.0);
    let long = forward(&tasks, &eight_hours(), day("2026-03-06")).unwrap();
    assert_eq!(long.cautions[0].code, "longer-than-a-day");
}

#[test]
fn what_cannot_be_dated() {
    let ring = vec![task("a", 1.0, 0.0, &[1]), task("b", 1.0, 0.0, &[0]), task("c", 1.0, 0.0, &[])];
    assert!(matches!(forward(&ring, &eight_hours(), day("2026-03-02")), Err(ScheduleError::Ring { .. })));
    let lost = vec![task("a", 1.0, 0.0, &[7])];
    assert!(matches!(
        forward(&lost, &eight_hours(), day("2026-03-02")),
        Err(ScheduleError::NoSuchTask { after: 7, .. })
    ));
    let closed = Week { days: [false; 7], ..Week::usual() };
    assert_eq!(forward(&five(), &closed, day("2026-03-02")), Err(ScheduleError::NoWorkingTime));
    assert!(forward(&[], &eight_hours(), day("2026-03-02")).unwrap().value.booked.is_empty());
}

prop_compose! {
    fn any_tasks()(rows in prop::collection::vec(
        (0u32..700, 0u32..4000, any::<bool>(), prop::collection::vec(any::<prop::sample::Index>(), 0..3)), 1..14
    )) -> Vec<Task> {
        rows.iter().enumerate().map(|(i, (hands_on, wait, pause, after))| {
            let mut after: Vec<usize> =
                if i == 0 { Vec::new() } else { after.iter().map(|a| a.index(i)).collect() };
            after.dedup();
            Task {
                continuity: if *pause { Continuity::MayPause } else { Continuity::InOneGo },
                ..task(&format!("t{i}"), f64::from(*hands_on), f64::from(*wait), &after)
            }
        }).collect()
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// The judge walks the dates minute by minute where it matters, apart from the planner.
    #[test]
    fn laws(tasks in any_tasks(), shift in 0i32..14, off in 0i32..20) {
        let start = day("2026-03-02").plus(shift);
        let week = Week { off: vec![start.plus(off)], ..eight_hours() };
        let got = forward(&tasks, &week, start).unwrap().value;
        prop_assert_eq!(got.booked.len(), tasks.len());
        let works = |m: Moment| week.works(m.day()) && (540..1020).contains(&m.minute());
        for b in &got.booked {
            let task = &tasks[b.task];
            for before in &task.after {
                let other = got.booked.iter().find(|o| o.task == *before).unwrap();
                prop_assert!(other.ready <= b.start, "the order and the waits are kept");
            }
            let span = b.end.since(b.start);
            let worked = (0..span).filter(|m| works(b.start.plus(*m))).count();
            let worked = i64::try_from(worked).unwrap();
            prop_assert_eq!(worked, minutes(task.hands_on), "hands-on minutes lie in working hours");
            if task.continuity == Continuity::InOneGo && task.hands_on.value() <= 480.0 {
                prop_assert_eq!(span, minutes(task.hands_on), "in one go");
            }
            prop_assert_eq!(b.ready.since(b.end), minutes(task.wait));
        }
        let mut hands: Vec<&Booked> = got.booked.iter().filter(|b| b.end > b.start).collect();
        hands.sort_by_key(|b| b.start);
        for pair in hands.windows(2) {
            prop_assert!(pair[0].end <= pair[1].start, "one pair of hands");
        }
        let last = got.critical.last().copied();
        prop_assert_eq!(last.and_then(|t| got.booked.iter().find(|b| b.task == t)).map(|b| b.ready.day()), Some(got.last));
    }

    #[test]
    fn back_and_forth(tasks in any_tasks(), due in 30i32..60) {
        let due = day("2026-03-02").plus(due);
        let week = eight_hours();
        let back = backward(&tasks, &week, due, None).unwrap();
        prop_assert!(back.value.last <= due);
        prop_assert!(back.cautions.iter().all(|c| c.code != "does-not-end-in-time"));
        let again = forward(&tasks, &week, back.value.first).unwrap().value;
        prop_assert_eq!(again.last, back.value.last);
    }
}
