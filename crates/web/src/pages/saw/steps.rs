//! Cards of the steps between the set-ups: jigs, keys, glue-ups, sanding, coats of finish, waits.

use super::card::{Card, Draft, Fact, Mind, Runs, Timer, minds};
use keepwright_model::job::Plan;
use keepwright_model::saw::{CradleCard, CradleRow, LidCard, LidOrder};
use keepwright_model::shop::finish::{Coats, Rags, Side};
use keepwright_model::shop::glue::Stage;
use keepwright_model::shop::keys::{KeyStock, WAY};
use keepwright_model::shop::sanding::{Sanding, When};
use keepwright_model::units::Length;
use keepwright_packet::flow::Setting;
use keepwright_packet::setup_words::setting;
use keepwright_packet::shown::{Showing, angle, capital, counted, minutes};

/// Cautions that belong to a glue-up, by their codes.
const GLUING: [&str; 5] =
    ["open-time-split", "open-time-too-short", "band-below-wanted", "epoxy-skin", "squeeze-out"];
/// Those of sawing slots and cutting keys.
const KEYS: [&str; 3] = ["v-at-slot-bottom", "slot-narrower-than-kerf", "keys-are-small-parts"];
/// Those of sanding.
const SANDING: [&str; 5] =
    ["sanding-dust", "sanding-allowance", "grit-step-long", "grit-step-back", "grit-not-known"];

/// A card of a plan's step.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Steps<'p> {
    plan: &'p Plan,
    show: Showing,
}

impl<'p> Steps<'p> {
    pub(crate) fn of(plan: &'p Plan) -> Self {
        Self { plan, show: Showing::of(plan) }
    }

    /// The plan's cautions with these codes.
    fn cautions(&self, codes: &[&str]) -> Vec<Mind> {
        minds(&self.show, self.plan.cautions.iter().filter(|c| codes.contains(&c.code)))
    }

    /// A wood's name, as the plan calls it.
    fn wood(&self, id: &str) -> String {
        let named = self.plan.woods.iter().find(|(have, _)| have == id);
        named.map_or_else(|| id.replace('_', " "), |(_, name)| name.clone())
    }

    fn boxes(&self) -> u32 {
        self.plan.statement.count.max(1)
    }

    /// Milled wood comes to rest; none where nothing is milled.
    pub(crate) fn settle(&self) -> Option<Card> {
        let task = self.plan.tasks.iter().find(|t| t.key == "stock" && t.wait.value() > 0.0)?;
        let timer = Timer::new("settle", capital(&task.wait_for), task.wait, Runs::Wait);
        Some(
            Draft {
                key: vec!["settle".to_owned()],
                title: "Let the milled wood settle".to_owned(),
                under: format!("{} before it is cut to size", minutes(task.wait)),
                facts: vec![
                    Fact::new("Sticker it", "with air on all faces, in the shop where it will be worked"),
                    Fact::new(
                        "After that",
                        "look along each blank again: what has moved is planed true before it is cut to size",
                    ),
                ],
                timers: timer.into_iter().collect(),
                ticks: vec!["stickered".to_owned(), "looked at again, flat".to_owned()],
                ..Draft::default()
            }
            .card(),
        )
    }

    /// How the cradle is built.
    pub(crate) fn cradle(&self, cradle: &CradleCard) -> Card {
        let show = &self.show;
        let floor = setting(show, "under the trough", cradle.floor, "");
        let sides = setting(show, "sides above it", cradle.trough, "");
        let through = show.both(cradle.break_through);
        let mut facts = vec![
            Fact::new("A slot comes through", format!("inside at {through}: stay well above that")),
            Fact::new(
                "Proof",
                "the trough's bottom runs square to the blade; measure it before the box goes in",
            ),
        ];
        if cradle.v_at_bottom.to_mm() > 1e-9 {
            let deep = show.both(cradle.v_at_bottom);
            facts.push(Fact::new("The teeth leave a V", format!("{deep} deep at the slot's bottom")));
        }
        let turns = |l: &[Length]| l.iter().map(|l| show.bare(*l)).collect::<Vec<_>>().join(", ");
        for row in &cradle.rows {
            let at: Vec<String> = row.distances.iter().map(|d| show.both(*d)).collect();
            let mut cuts = Vec::new();
            if !row.lower_on_stop.is_empty() {
                cuts.push(format!("keys at {} with the lower edge on the stop", turns(&row.lower_on_stop)));
            }
            if !row.upper_on_stop.is_empty() {
                cuts.push(format!("keys at {} with the upper edge on the stop", turns(&row.upper_on_stop)));
            }
            facts.push(Fact::new(&format!("Stop at {}", at.join(", then ")), cuts.join("; ")));
        }
        Draft {
            key: vec!["cradle".to_owned(), angle(cradle.opens)],
            set: core::iter::once(mms([cradle.floor, cradle.trough]))
                .chain(cradle.rows.iter().map(row_set))
                .collect(),
            title: "Build the cradle".to_owned(),
            under: "carries the glued box over the blade on its corner".to_owned(),
            settings: vec![
                Setting::new("V opens to", angle(cradle.opens), ""),
                Setting::new("side to table", angle(cradle.side_from_table), ""),
                floor,
                sides,
            ],
            facts,
            ticks: vec!["cradle built".to_owned(), "proved on a scrap corner".to_owned()],
            cautions: self.cautions(&KEYS),
            ..Draft::default()
        }
        .card()
    }

    /// Key stock of one kind.
    pub(crate) fn keys(&self, keys: &KeyStock) -> Card {
        let show = &self.show;
        let wood = self.wood(&keys.wood);
        Draft {
            key: vec!["keys".to_owned(), keys.wood.clone(), format!("{:.1}", keys.thickness.to_mm())],
            set: vec![
                mms([keys.thickness, keys.width, keys.long_edge]),
                format!("{} {}", keys.needed, keys.spare),
            ],
            title: format!("Keys of {wood}"),
            under: format!("{} and {} to spare", counted(keys.needed as usize, "key", "keys"), keys.spare),
            settings: vec![
                setting(show, "strip thick", keys.thickness, "to the slot"),
                setting(show, "strip wide", keys.width, ""),
                setting(show, "long edge of a key", keys.long_edge, ""),
                setting(show, "strip for all", keys.strip_length, ""),
            ],
            ticks: WAY.iter().map(|w| (*w).trim_end_matches('.').to_owned()).collect(),
            ..Draft::default()
        }
        .card()
    }

    /// How the lid is sawn off.
    pub(crate) fn lid(&self, lid: &LidCard) -> Card {
        let show = &self.show;
        let order = match lid.order {
            LidOrder::ShortFirst => "Short walls first, then the long ones",
            LidOrder::LongFirst => "Long walls first, then the short ones with shims in the kerfs",
        };
        let ticks = match lid.order {
            LidOrder::ShortFirst => {
                ["first short wall", "second short wall", "first long wall", "second long wall"]
            }
            LidOrder::LongFirst => {
                ["first long wall", "second long wall", "shims taped in, short walls", "lid free"]
            }
        };
        Draft {
            key: vec!["lid saw-off".to_owned()],
            set: vec![format!(
                "{:?} {:?} {:?} {:?} {:?}",
                lid.fence, lid.blade, lid.skin, lid.shims, lid.clean_up
            )],
            title: "The lid's saw line".to_owned(),
            under: order.to_owned(),
            settings: vec![
                setting(show, "fence to blade", lid.fence, "lower edge on the fence"),
                setting(show, "blade height", lid.blade, ""),
                setting(show, "skin left", lid.skin, "knifed through by hand"),
                setting(show, "shims", lid.shims, "in the cuts made"),
                setting(show, "to clean up", lid.clean_up, "on each sawn edge"),
            ],
            facts: vec![Fact::new("Why so", lid.why)],
            ticks: ticks.map(str::to_owned).to_vec(),
            ..Draft::default()
        }
        .card()
    }

    /// One stage of a glue-up.
    pub(crate) fn glue(&self, stage: &Stage) -> Card {
        let show = &self.show;
        let mut settings = vec![
            Setting::new("spread and close", minutes(stage.needs), "within the open time"),
            Setting::new(
                "glue",
                format!("{:.1}\u{a0}mL", stage.volume.to_ml()),
                counted(stage.surfaces as usize, "surface", "surfaces"),
            ),
        ];
        if let Some(c) = &stage.clamping {
            let gives = format!("gives {:.2}\u{a0}MPa", c.pressure.value());
            settings.push(Setting::new("band", format!("{:.0}\u{a0}N", c.tension.value()), gives));
        }
        if let Some(d) = &stage.diagonals {
            settings.push(setting(show, "diagonals", d.target, &format!("within {}", show.both(d.limit))));
        }
        let timers = [
            Timer::new("open", "Open time", stage.open, Runs::Limit),
            Timer::new("clamp", "In clamps", stage.clamp, Runs::Wait),
            Timer::new("cure", "Cure", stage.cure, Runs::Wait),
        ];
        let each =
            if self.boxes() > 1 { format!(" · for each of {} boxes", self.boxes()) } else { String::new() };
        Draft {
            key: vec!["glue".to_owned(), stage.title.clone()],
            set: stage.steps.iter().map(|s| s.says.clone()).collect(),
            title: format!("Glue-up: {}", stage.title.replace(": ", ", ")),
            under: format!("{}{each}", self.plan.shop.bench.gluing.glue.name),
            settings,
            timers: timers.into_iter().flatten().collect(),
            ticks: stage.steps.iter().map(|s| s.says.trim_end_matches('.').to_owned()).collect(),
            cautions: self.cautions(&GLUING),
            ..Draft::default()
        }
        .card()
    }

    /// The sanding of a group of faces; none where there is nothing to sand.
    pub(crate) fn sanding(&self, when: When) -> Vec<Card> {
        let of_time = self.plan.sanding.iter().filter(|s| s.faces.when == when);
        of_time
            .filter(|s| s.faces.area.to_mm2() > 0.0 && !s.passes.is_empty())
            .map(|s| self.sand(s))
            .collect()
    }

    fn sand(&self, sanding: &Sanding) -> Card {
        let grades: Vec<String> = sanding.passes.iter().map(|p| format!("P{}", p.p)).collect();
        Draft {
            key: vec!["sand".to_owned(), sanding.faces.name.clone()],
            set: grades.clone(),
            title: format!("Sand {}", sanding.faces.name),
            under: format!("{} a box", minutes(sanding.minutes)),
            settings: vec![
                Setting::new("grades", grades.join(" "), "each in turn"),
                Setting::new(
                    "takes off",
                    Showing::gap(sanding.removes),
                    format!("of {} left for it", Showing::gap(sanding.faces.allowance)),
                ),
            ],
            ticks: grades,
            cautions: self.cautions(&SANDING),
            ..Draft::default()
        }
        .card()
    }

    /// The coats of a side, one card for each product.
    pub(crate) fn coats(&self, side: Side) -> Vec<Card> {
        let of_side: Vec<&Coats> =
            self.plan.finish.coats.iter().filter(|c| c.side == side && c.coats > 0).collect();
        let last = of_side.len().saturating_sub(1);
        of_side.iter().enumerate().map(|(i, c)| self.coat(c, side == Side::Outside && i == last)).collect()
    }

    fn coat(&self, coats: &Coats, is_last: bool) -> Card {
        let product = &coats.product;
        let boxes = f64::from(self.boxes());
        let mut timers: Vec<Timer> = (1..=coats.coats)
            .filter(|n| !(is_last && *n == coats.coats))
            .filter_map(|n| {
                Timer::new(&format!("coat {n}"), format!("Coat {n} dries"), product.wait, Runs::Wait)
            })
            .collect();
        if is_last {
            timers.extend(Timer::new("cure", "Finish cures", self.plan.finish.cure, Runs::Wait));
        }
        let mut facts = vec![Fact::new("Thinning", product.thin.clone())];
        facts.retain(|f| !f.says.is_empty());
        facts.push(Fact::new("The label", "of the product at hand comes before these times"));
        Draft {
            key: vec!["coats".to_owned(), coats.side.words().to_owned(), product.id.clone()],
            set: vec![product.name.clone(), format!("{} {}", coats.coats, product.wait.value())],
            title: format!("{}, {}", capital(&product.name), coats.side.words()),
            under: counted(coats.coats as usize, "coat", "coats"),
            settings: vec![
                Setting::new(
                    "one coat",
                    format!("{:.0}\u{a0}mL", coats.per_coat.to_ml() * boxes),
                    format!("on {}", self.show.area(coats.area)),
                ),
                Setting::new("between coats", minutes(product.wait), ""),
            ],
            facts,
            timers,
            ticks: (1..=coats.coats).map(|n| format!("coat {n}")).collect(),
            cautions: self.cautions(&coating(coats)),
            ..Draft::default()
        }
        .card()
    }
}

/// Cautions that belong to laying on these coats, by their codes.
fn coating(coats: &Coats) -> Vec<&'static str> {
    let mut codes = vec!["finish-glues-panel"];
    codes.extend(match coats.product.rags {
        Rags::Ignite => Some("oily-rags"),
        Rags::Solvent => Some("alcohol-vapor"),
        Rags::Plain => None,
    });
    codes.extend(match coats.side {
        Side::Inside => ["finish-inside-first", "smell-shut-in"],
        Side::Outside => ["one-side-finished", "grit-not-known"],
    });
    codes
}

/// A stop position of the cradle as a digest takes it.
fn row_set(row: &CradleRow) -> String {
    let all = |l: &[Length]| l.iter().map(|l| mm(*l)).collect::<Vec<_>>().join(" ");
    format!(
        "{} / {} / {} / {}",
        all(&row.distances),
        mm(row.blade),
        all(&row.lower_on_stop),
        all(&row.upper_on_stop)
    )
}

/// A length as a digest takes it: to a hundredth of a millimeter.
fn mm(length: Length) -> String {
    format!("{:.2}", length.to_mm() + 0.0)
}

/// Lengths as a digest takes them.
fn mms<const N: usize>(lengths: [Length; N]) -> String {
    lengths.map(mm).join(" ")
}
