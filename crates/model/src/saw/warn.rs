//! Cautions that a very cut calls for. Each says what could happen, one thing that reduces it, and who
//! has the last word. None of them permits anything.

use super::settings::Settings;
use super::setup::{Cutter, Guide, Holding, Lean, Offcut, Purpose, Setup};
use crate::caution::{Caution, Change, Weight};
use crate::parts::Machine;
use crate::reason::{Basis, Given, Value};
use crate::units::Length;

/// Closes every safety sentence.
const LAST_WORD: &str = "Your machine's manual, local rules and trained judgment come first.";

/// HSE Wood Information Sheet 16.
const WIS16: Basis = Basis::Published("Health and Safety Executive, Wood Information Sheet 16, saw benches");

/// Published limits of the guarding, as its body states them; numbers for showing, not advice of our own.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GuardLimits {
    /// Largest gap between riving knife and teeth.
    pub knife_gap: Length,
    /// Least length of a push stick.
    pub push_stick: Length,
    /// Longest time for the blade to come to rest, seconds.
    pub brake_seconds: u32,
}

/// The limits the Health and Safety Executive publishes for saw benches (WIS16 and its web pages).
pub const GUARD_LIMITS: GuardLimits =
    GuardLimits { knife_gap: Length::mm(8.0), push_stick: Length::mm(450.0), brake_seconds: 10 };

fn caution(
    code: &'static str,
    weight: Weight,
    place: &str,
    says: &str,
    basis: Basis,
    change: &str,
) -> Caution {
    Caution {
        code,
        weight,
        place: place.to_owned(),
        says: format!("{says} {LAST_WORD}"),
        numbers: Vec::new(),
        basis,
        change: Some(Change::words(change)),
    }
}

/// The cautions of a set-up.
pub(super) fn cautions(setup: &Setup, settings: &Settings) -> Vec<Caution> {
    let mut list = Vec::new();
    list.extend(reach_of_machine(setup, settings));
    list.extend(short_part(setup, settings));
    if setup.machine == Machine::TableSaw {
        list.extend(at_the_saw(setup));
    }
    list.extend(elsewhere(setup, settings));
    list
}

/// The shortest piece of a set-up as it is handled, and its name: what is still part of a strip counts as that.
fn shortest(setup: &Setup) -> Option<(Length, &str)> {
    let all =
        setup.members.iter().map(|m| m.in_strip.map_or((m.size[0], m.name.as_str()), |s| (s.length, s.name)));
    all.reduce(|a, b| if b.0 < a.0 { b } else { a })
}

fn short_part(setup: &Setup, settings: &Settings) -> Option<Caution> {
    let powered = matches!(setup.machine, Machine::TableSaw | Machine::BandSaw | Machine::RouterTable);
    // Strips and cradle work are handled long or in a jig of their own.
    let long_stock = matches!(
        setup.purpose,
        Purpose::RipStrip
            | Purpose::MiterFromStrip
            | Purpose::CrosscutBlank
            | Purpose::KeySlot
            | Purpose::Resaw
    );
    let (length, name) = shortest(setup)?;
    if !powered || long_stock || length >= settings.short {
        return None;
    }
    let grave = length < settings.very_short;
    let limit = if grave { settings.very_short } else { settings.short };
    let says = format!(
        "{name} is {:.0} mm long, under {:.0} mm: hands come close to the cutter and a short piece can turn and be \
         thrown. Cut it while it is part of a longer strip, or clamp it in a sled and keep a push stick at hand.",
        length.to_mm(),
        limit.to_mm()
    );
    let basis = if grave {
        Basis::Published("magazine safety articles: 6 in; HSE push-stick rule: 300 mm")
    } else {
        Basis::Published("Health and Safety Executive, push-stick rule: for any cut under 300 mm")
    };
    let mut c = caution(
        if grave { "very-short-part" } else { "short-part" },
        if grave { Weight::LikelyToFail } else { Weight::WorthKnowing },
        name,
        &says,
        basis,
        "Use a sled with a clamp, a push block, or a hand saw",
    );
    c.numbers = vec![
        Given::new("part length", Value::Length(length)),
        Given::new("published length", Value::Length(limit)),
    ];
    Some(c)
}

/// What the machine cannot reach.
fn reach_of_machine(setup: &Setup, settings: &Settings) -> Vec<Caution> {
    let mut list = Vec::new();
    let place = setup.members.first().map_or("", |m| m.name.as_str());
    let saw = &settings.table_saw;
    let powered = matches!(setup.machine, Machine::TableSaw | Machine::RouterTable);
    let set_by_line = matches!(setup.purpose, Purpose::HingeBed | Purpose::MiterFromStrip);
    if powered && setup.passes.is_empty() && !set_by_line {
        list.push(caution(
            "no-setting",
            Weight::Cannot,
            place,
            "No setting of this machine makes the cut: it is narrower than the cutter, or the blade would have to \
             lie flatter than it tilts; forcing it spoils the part or throws it. Use a thinner cutter or a hand tool.",
            Basis::Derived("the cut's width and angles against the shop's cutters"),
            "Use a thinner blade, a smaller bit, or cut it by hand",
        ));
    }
    if setup.machine == Machine::TableSaw {
        if setup.tilt.to_degrees() > saw.max_tilt.to_degrees() + 1e-6 {
            let says = format!(
                "The blade would have to tilt {:.1}°, and it stops at {:.1}°. Cut near the line and plane to it on a \
                 shooting board, or stand the part in a fixture at the complementary angle.",
                setup.tilt.to_degrees(),
                saw.max_tilt.to_degrees()
            );
            list.push(caution(
                "tilt-beyond-saw",
                Weight::Cannot,
                place,
                &says,
                Basis::Stated,
                "Use a fixture",
            ));
        }
        let highest = setup.passes.iter().map(|p| p.height).reduce(Length::max);
        let limit = saw.max_height * setup.tilt.cos();
        if let Some(h) = highest.filter(|h| *h > limit) {
            let says = format!(
                "The blade would have to stand {:.1} mm high, and at this tilt it reaches {:.1} mm; a cut from both \
                 faces, or a bandsaw and a plane, is the usual way.",
                h.to_mm(),
                limit.to_mm()
            );
            list.push(caution(
                "blade-too-low",
                Weight::Cannot,
                place,
                &says,
                Basis::Stated,
                "Use another machine",
            ));
        }
    }
    list
}

/// Cautions of the table saw.
fn at_the_saw(setup: &Setup) -> Vec<Caution> {
    let mut list = Vec::new();
    let place = setup.purpose.words();
    if setup.lean != Lean::Upright {
        list.push(caution(
            "tilted-blade",
            Weight::WorthKnowing,
            place,
            &format!(
                "A piece caught under a tilted blade against fence or stop is thrown back. Keep fence and stop on the \
                 {} side, from which the blade leans away.",
                setup.side.words()
            ),
            Basis::Published("Woodworker's Journal, question and answer on tilted blades; several how-tos"),
            "Keep the guide on the side the blade leans away from",
        ));
    }
    if matches!(setup.guide, Guide::Stop | Guide::Mark) && matches!(setup.offcut, Offcut::FreeSide(_)) {
        list.push(caution(
            "offcut-free",
            Weight::WorthKnowing,
            place,
            "An offcut held between blade and stop, or a rip fence used as a length stop, binds and kicks back. Put \
             the stop on the piece that is held and let the offcut lie free.",
            Basis::Published("textbooks and how-tos on stop blocks"),
            "Stop on the held piece; never the rip fence",
        ));
    }
    if matches!(setup.purpose, Purpose::Rip | Purpose::BevelRip | Purpose::RipStrip) {
        let mut c = caution(
            "rip-kickback",
            Weight::WorthKnowing,
            place,
            &format!(
                "Stock that closes on the blade is thrown back. Published by HSE: riving knife within {:.0} mm of the \
                 teeth, push stick at least {:.0} mm long, blade at rest within {} s; stand out of line.",
                GUARD_LIMITS.knife_gap.to_mm(),
                GUARD_LIMITS.push_stick.to_mm(),
                GUARD_LIMITS.brake_seconds
            ),
            WIS16,
            "Riving knife and guard in place, push stick at hand",
        );
        c.numbers = vec![
            Given::new("riving knife gap", Value::Length(GUARD_LIMITS.knife_gap)),
            Given::new("push stick", Value::Length(GUARD_LIMITS.push_stick)),
        ];
        list.push(c);
    }
    list.extend(not_through(setup));
    list
}

/// Cuts that do not go through the wood, key slots and sawn lids among them.
fn not_through(setup: &Setup) -> Vec<Caution> {
    let place = setup.purpose.words();
    let mut list = Vec::new();
    if matches!(
        setup.purpose,
        Purpose::Rabbet
            | Purpose::Groove
            | Purpose::EndSlot
            | Purpose::HalfLap
            | Purpose::Finger
            | Purpose::KeySlot
            | Purpose::SawOff
    ) {
        list.push(caution(
            "not-through",
            Weight::WorthKnowing,
            place,
            "Guard and splitter often come off for a cut that does not go through, and are then missing at the next \
             one; some countries' rules forbid unguarded grooving at work, and HSE holds a guarded spindle molder or \
             router more suitable. Use a riving knife below the teeth and hold-downs, and refit the guard at once.",
            WIS16,
            "Riving knife below the teeth, hold-downs; or the router table",
        ));
    }
    if setup.purpose == Purpose::KeySlot {
        list.push(caution(
            "cradle",
            Weight::LikelyToFail,
            place,
            "The blade comes out at the back of the cradle, where a hand may be. Tie or clamp the box in, keep both \
             hands above and behind, bury the blade in a back block, and keep screws above the blade's height.",
            Basis::Published("how-tos on keyed miters; common practice"),
            "Cradle tall and long, with a back block",
        ));
    }
    if let (Purpose::KeySlot, Cutter::Blade { kerf, teeth }) = (setup.purpose, setup.cutter) {
        let v = super::jig::v_at_bottom(kerf, teeth);
        if v > Length::ZERO {
            list.push(Caution {
                code: "v-at-slot-bottom",
                weight: Weight::WorthKnowing,
                place: place.to_owned(),
                says: format!(
                    "Teeth beveled in turn leave a V {:.2} mm deep at the bottom of a slot, a gap under the key. A \
                     flat-topped blade leaves none.",
                    v.to_mm()
                ),
                numbers: vec![Given::new("depth of the V", Value::Length(v))],
                basis: Basis::Derived("kerf × tangent of the teeth's bevel"),
                change: Some(Change::words("Mount a flat-topped blade for the key slots")),
            });
        }
    }
    if setup.purpose == Purpose::SawOff {
        list.push(caution(
            "lid-pinch",
            Weight::LikelyToFail,
            place,
            "The halves pinch the blade and drop on the last cut. Leave a skin of 1/64 to 1/16 in and knife it \
             through, or tape kerf-thick shims into the cuts made.",
            Basis::Published("lid-sawing tips in several woodworking magazines"),
            "Leave a skin, or shim the kerf",
        ));
    }
    if setup.members.iter().any(|m| m.stopped.is_some()) {
        list.push(caution(
            "stopped-cut",
            Weight::LikelyToFail,
            place,
            "Lowering wood onto a turning blade for a stopped cut can throw it. The router table between two stop \
             blocks is the usual way.",
            Basis::CommonPractice,
            "Make the stopped cut at the router table",
        ));
    }
    list
}

/// Bandsaw, planer, router table.
fn elsewhere(setup: &Setup, settings: &Settings) -> Vec<Caution> {
    let place = setup.purpose.words();
    let mut list = Vec::new();
    match setup.machine {
        Machine::BandSaw => list.push(caution(
            "bandsaw-guard",
            Weight::WorthKnowing,
            place,
            "The blade bared above the work is the danger, most of all as the cut ends. Set the guard just above the \
             stock and finish short resaws with a push block.",
            Basis::CommonPractice,
            "Guard down, push block for the end of the cut",
        )),
        Machine::Planer => {
            if let Some((length, name)) = shortest(setup).filter(|(l, _)| *l < settings.planer_shortest) {
                let mut c = caution(
                    "planer-short",
                    Weight::LikelyToFail,
                    name,
                    &format!(
                        "{name} is {:.0} mm long; planers need about {:.0} mm between their rollers, and a shorter \
                         piece can tip into the knives. Plane it while it is part of a longer strip.",
                        length.to_mm(),
                        settings.planer_shortest.to_mm()
                    ),
                    Basis::FromMemory("planer manuals: 300 mm (12 in) is the usual least length"),
                    "Plane the whole strip, then crosscut",
                );
                c.numbers = vec![Given::new("length", Value::Length(length))];
                list.push(c);
            }
        }
        Machine::RouterTable => list.push(caution(
            "router-feed",
            Weight::WorthKnowing,
            place,
            "A bit takes hold of wood fed with its turning, or of a small part held by hand, and pulls it away. Feed \
             against the bit's rotation, and carry small parts on a push block or against a starting pin.",
            Basis::CommonPractice,
            "Feed against the rotation; push block",
        )),
        Machine::TableSaw | Machine::Drill | Machine::HandTools => {}
    }
    list
}

/// Adds the holding that a short part calls for.
pub(super) fn hold_short(setup: &mut Setup, settings: &Settings) {
    let blade = matches!(setup.cutter, Cutter::Blade { .. });
    let short = shortest(setup).is_some_and(|(l, _)| l < settings.short);
    let mut add = |h: Holding| {
        if !setup.holding.contains(&h) {
            setup.holding.push(h);
        }
    };
    if blade && short {
        match setup.guide {
            Guide::Stop | Guide::Mark => add(Holding::SledWithClamp),
            Guide::Fence => add(Holding::PushBlock),
            Guide::CradleStop | Guide::FingerPin | Guide::Free => {}
        }
    }
}
