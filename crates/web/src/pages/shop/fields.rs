//! The keys of the shop file as fields of a page: one row to a key, in the order of the work.

use super::usual::Usual;
use keepwright_model::design::{OverheadPart, TiltSide, ToothForm};

/// How a field is typed, and what of it becomes the text of the shop file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// Any text.
    Text,
    /// A text with names to choose from: the places of the climate table.
    Site,
    /// A text with names to choose from: the glues of the table.
    Glue,
    /// One of a few words; each as the file has it and as the page says it.
    Choice(&'static [(&'static str, &'static str)]),
    /// As [`Kind::Choice`], the words being numbers in the file.
    NumberChoice(&'static [(&'static str, &'static str)]),
    /// A length in either unit.
    Length,
    /// Lengths with commas between.
    Lengths,
    /// A number; its unit stands behind the label.
    Number,
    /// Numbers with commas between.
    Numbers,
    /// Days of the week.
    Days,
}

/// A field of the shop's page.
#[derive(Clone, Copy)]
pub(crate) struct Field {
    /// The key path in the shop file.
    pub(crate) key: &'static str,
    /// What it is, in the trade's words.
    pub(crate) label: &'static str,
    /// The unit of a number; empty for what has none or brings its own.
    pub(crate) unit: &'static str,
    /// How it is typed.
    pub(crate) kind: Kind,
    /// One sentence on what it is for.
    pub(crate) hint: &'static str,
    /// What holds while nothing is stated.
    pub(crate) usual: fn(&Usual) -> String,
}

/// Fields that belong together.
pub(crate) struct Group {
    /// The anchor on the page.
    pub(crate) id: &'static str,
    /// The heading.
    pub(crate) title: &'static str,
    /// The fields.
    pub(crate) fields: &'static [Field],
    /// Words of the glossary that stand in them.
    pub(crate) words: &'static [&'static str],
}

/// The days as the file writes them and as the page says them.
pub(crate) const DAYS: [(&str, &str); 7] = [
    ("mon", "Monday"),
    ("tue", "Tuesday"),
    ("wed", "Wednesday"),
    ("thu", "Thursday"),
    ("fri", "Friday"),
    ("sat", "Saturday"),
    ("sun", "Sunday"),
];

/// The key under which each operation's minutes stand: `times.` and the operation's name with blanks.
pub(crate) fn times_key(operation: &str) -> String {
    format!("times.{}", operation.replace('_', " "))
}

const fn field(key: &'static str, label: &'static str, kind: Kind, usual: fn(&Usual) -> String) -> Field {
    Field { key, label, unit: "", kind, hint: "", usual }
}

impl Field {
    const fn in_unit(mut self, unit: &'static str) -> Self {
        self.unit = unit;
        self
    }

    const fn hint(mut self, hint: &'static str) -> Self {
        self.hint = hint;
        self
    }
}

fn nothing(_: &Usual) -> String {
    String::new()
}

/// All groups, in the order in which the page shows them; times and hardware follow with tables of their own.
pub(crate) static GROUPS: &[Group] = &[
    Group { id: "name", title: "Name and units", fields: NAME, words: &[] },
    Group {
        id: "saw",
        title: "Table saw and blade",
        fields: SAW,
        words: &["kerf", "flat-top blade", "blade tilt", "blade height", "cradle", "key"],
    },
    Group {
        id: "errors",
        title: "What the saw is measured to do",
        fields: ERRORS,
        words: &["bevel", "miter", "stop block"],
    },
    Group { id: "bandsaw", title: "Bandsaw, planer, router", fields: MACHINES, words: &["resaw", "planer"] },
    Group {
        id: "glue",
        title: "Clamps and glue",
        fields: GLUE,
        words: &["band clamp", "open time", "clamp time", "cure", "squeeze-out"],
    },
    Group {
        id: "allowances",
        title: "Allowances and the wood at hand",
        fields: ALLOWANCES,
        words: &["allowance", "strip", "moisture content"],
    },
    Group {
        id: "home",
        title: "Where the boxes will live",
        fields: HOME,
        words: &["equilibrium moisture content", "relative humidity"],
    },
    Group { id: "money", title: "Money", fields: MONEY, words: &["bench time"] },
    Group { id: "week", title: "The week", fields: WEEK, words: &["acclimatize"] },
];

const NAME: &[Field] = &[
    field("shop.name", "Name of the shop", Kind::Text, |u| u.file.shop.name.clone()),
    field("shop.units", "Unit of lengths", Kind::Choice(&[("mm", "millimeters"), ("in", "inches")]), |_| {
        "millimeters".to_owned()
    })
    .hint("For every number that names no unit. Either unit may be typed anywhere."),
    field(
        "shop.fineness",
        "Inches are shown to",
        Kind::NumberChoice(&[("16", "sixteenths"), ("32", "thirty-seconds"), ("64", "sixty-fourths")]),
        |_| "sixty-fourths".to_owned(),
    ),
];

const SAW: &[Field] =
    &[
        field("saw.kerf", "Kerf of the blade", Kind::Length, |u| u.length(u.file.saw.kerf))
            .hint("Measured in a scrap, not read from the blade: runout is part of it."),
        field(
            "saw.teeth",
            "Tooth form",
            Kind::Choice(&[("flat top", "flat top"), ("alternate top bevel", "alternate top bevel")]),
            |u| match u.file.saw.teeth {
                ToothForm::FlatTop => "flat top".to_owned(),
                ToothForm::AlternateTopBevel(_) => "alternate top bevel".to_owned(),
            },
        )
        .hint("Flat-topped teeth leave a flat bottom in a groove or a key slot."),
        field("saw.top_bevel_degrees", "Top bevel", Kind::Number, |_| "15".to_owned())
            .in_unit("degrees")
            .hint("Only for alternate top bevel."),
        field("saw.tilts", "The blade leans", Kind::Choice(&[("left", "left"), ("right", "right")]), |u| {
            match u.file.saw.tilts {
                TiltSide::Left => "left".to_owned(),
                TiltSide::Right => "right".to_owned(),
            }
        })
        .hint("As seen by who feeds the work."),
        field("saw.largest_height", "Largest height of the blade", Kind::Length, |u| {
            u.length(u.file.saw.largest_height)
        }),
        field("saw.largest_tilt_degrees", "Largest tilt", Kind::Number, |u| {
            Usual::number(u.file.saw.largest_tilt.to_degrees())
        })
        .in_unit("degrees"),
        field("saw.cradle_floor", "Floor of the cradle", Kind::Length, |u| u.length(u.file.saw.cradle_floor))
            .hint("The wood under the trough: it is added to the height of the blade for key slots."),
        field("saw.short_part", "Short parts are below", Kind::Length, |u| u.length(u.file.saw.short_part))
            .hint("Below this a cut gets a caution."),
        field("saw.very_short_part", "Very short parts are below", Kind::Length, |u| {
            u.length(u.file.saw.very_short_part)
        })
        .hint("Below this a cut gets the gravest caution. Your saw's manual comes first."),
    ];

const ERRORS: &[Field] = &[
    field("saw.bevel_error.bias_degrees", "Bevel: off on average by", Kind::Number, |_| "0".to_owned())
        .in_unit("degrees")
        .hint("Cut five pairs of miters, measure each, take the mean of what is too much."),
    field("saw.bevel_error.spread_degrees", "Bevel: scatter", Kind::Number, |u| {
        Usual::number(u.file.saw.bevel_error.spread.to_degrees())
    })
    .in_unit("degrees")
    .hint("Standard deviation of the same cuts."),
    field("saw.square_error.bias_degrees", "Square cut: off on average by", Kind::Number, |_| "0".to_owned())
        .in_unit("degrees"),
    field("saw.square_error.spread_degrees", "Square cut: scatter", Kind::Number, |u| {
        Usual::number(u.file.saw.square_error.spread.to_degrees())
    })
    .in_unit("degrees"),
    field("saw.length_error.bias", "Length to a stop: off on average by", Kind::Length, |_| {
        "0 mm".to_owned()
    })
    .hint("Below nothing if parts come out short."),
    field("saw.length_error.spread", "Length to a stop: scatter", Kind::Length, |u| {
        u.length(u.file.saw.length_error.spread)
    }),
];

const MACHINES: &[Field] = &[
    field("bandsaw.kerf", "Kerf of the bandsaw", Kind::Length, |u| u.length(u.file.bandsaw.kerf)),
    field("bandsaw.clean_up", "Planed off each sawn face", Kind::Length, |u| {
        u.length(u.file.bandsaw.clean_up)
    }),
    field("bandsaw.largest_height", "Tallest stock it resaws", Kind::Length, |u| {
        u.length(u.file.bandsaw.largest_height)
    }),
    field("planer.shortest", "Shortest piece for the planer", Kind::Length, |u| {
        u.length(u.file.planer.shortest)
    })
    .hint("As its manual says."),
    field("planer.thinnest", "Thinnest piece for the planer", Kind::Length, |u| {
        u.length(u.file.planer.thinnest)
    })
    .hint("Thinner pieces go on a carrier board."),
    field("router.bits", "Straight router bits at hand", Kind::Lengths, |u| {
        let bits: Vec<String> = u.file.router.bits.iter().map(|b| u.length(*b)).collect();
        bits.join(", ")
    })
    .hint("Diameters, with commas between."),
];

const GLUE: &[Field] = &[
    field("clamps.band_tension_n", "Pull of a band clamp", Kind::Number, |u| {
        Usual::number(u.file.clamps.band_tension.value())
    })
    .in_unit("newtons"),
    field("clamps.sets", "Glue-ups in clamps at once", Kind::Number, |u| u.file.clamps.sets.to_string()),
    field("glue.name", "Glue", Kind::Glue, |u| u.file.glue.name.clone())
        .hint("A glue of the list brings its own times; the label at hand rules."),
    field("glue.open_minutes", "Open time", Kind::Number, |u| Usual::number(u.glue.open.value()))
        .in_unit("minutes"),
    field("glue.clamp_minutes", "Time in clamps", Kind::Number, |u| Usual::number(u.glue.clamp.value()))
        .in_unit("minutes"),
    field("glue.cure_hours", "Until it may be worked hard", Kind::Number, |u| {
        Usual::number(u.glue.cure.to_hours())
    })
    .in_unit("hours"),
    field("glue.spread_g_m2", "Spread", Kind::Number, |u| Usual::number(u.file.glue.spread_g_m2))
        .in_unit("grams per square meter"),
];

const ALLOWANCES: &[Field] = &[
    field("allowances.trim", "Trimmed off each end of a strip", Kind::Length, |u| {
        u.length(u.file.allowances.trim)
    }),
    field("allowances.sanding", "Sanded off each face", Kind::Length, |u| {
        u.length(u.file.allowances.sanding)
    }),
    field("allowances.milling", "Milled off in thickness", Kind::Length, |u| {
        u.length(u.file.allowances.milling)
    })
    .hint("Both faces of rough stock together."),
    field("wood.moisture_pct", "Moisture of the wood today", Kind::Number, |u| {
        Usual::number(u.file.wood.moisture.to_percent())
    })
    .in_unit("percent")
    .hint("Where a board does not say its own."),
];

const HOME: &[Field] = &[
    field("home.site", "Place", Kind::Site, nothing)
        .hint("The nearest place of the list. Its outdoor air, heated to the room, is the driest a home there gets."),
    field("home.winter_celsius", "Heated in winter to", Kind::Number, |u| {
        Usual::number(u.file.home.winter.value())
    })
    .in_unit("°C"),
    field("home.summer_celsius", "Cooled in summer to", Kind::Number, |_| "not cooled".to_owned())
        .in_unit("°C"),
    field("home.driest_rh_pct", "A humidifier keeps at least", Kind::Number, |_| {
        "no humidifier".to_owned()
    })
    .in_unit("percent humidity"),
    field("home.dampest_rh_pct", "A dehumidifier keeps at most", Kind::Number, |_| {
        "no dehumidifier".to_owned()
    })
    .in_unit("percent humidity"),
    field("home.monthly_rh_pct", "Measured humidity, month by month", Kind::Numbers, nothing)
        .in_unit("percent")
        .hint("Twelve numbers with commas between, January first. Goes before the place."),
    field("home.monthly_celsius", "Measured temperature, month by month", Kind::Numbers, nothing)
        .in_unit("°C")
        .hint("Twelve numbers, January first; only with the humidity."),
];

const MONEY: &[Field] = &[
    field("shop.currency", "Currency", Kind::Text, |u| u.file.shop.currency.code().to_owned())
        .hint("Three capital letters: USD, EUR, GBP."),
    field("shop.hourly_rate", "An hour of your work", Kind::Number, |u| u.money(u.rate))
        .hint("Only you know it; until then an hour is reckoned as shown here."),
    field("money.overhead_per_hour", "Overhead for an hour at the bench", Kind::Number, nothing)
        .hint("Rent, power, machines. State this or the percentage, not both."),
    field("money.overhead_pct", "Overhead as a share of labor", Kind::Number, |u| {
        match u.file.money.overhead {
            OverheadPart::Share(share) => Usual::number(share * 100.0),
            OverheadPart::PerHour(_) => String::new(),
        }
    })
    .in_unit("percent"),
    field("money.consumables", "Glue, abrasives, finish for one box", Kind::Number, |_| "0".to_owned()),
    field("money.waste_pct", "Wood bought and not used", Kind::Number, |u| {
        Usual::number(u.file.money.waste * 100.0)
    })
    .in_unit("percent")
    .hint("The cutting plan's own waste is in the material already."),
    field("money.channel_cut_pct", "What a gallery or market keeps", Kind::Number, |u| {
        Usual::number(u.file.money.channel_cut * 100.0)
    })
    .in_unit("percent of the price"),
];

const WEEK: &[Field] = &[
    field("week.hours_per_day", "Hours at the bench in a day", Kind::Number, |u| {
        Usual::number(u.file.week.hours_per_day)
    })
    .in_unit("hours"),
    field("week.workdays", "Working days", Kind::Days, nothing),
    field("week.rest_days", "New wood rests in the shop for", Kind::Number, |u| {
        u.file.week.rest_days.to_string()
    })
    .in_unit("days"),
];

#[cfg(test)]
mod tests {
    use super::*;
    use keepwright_model::shop::time::operation_times;
    use std::collections::BTreeSet;

    const REFERENCE: &str = include_str!("../../../../../docs/shop-file.md");

    /// Keys of the tables of hardware, which are rows of a list and no single fields.
    const ROWS: [&str; 2] = ["hardware.name", "hardware.price"];

    /// The keys in the table of the reference, the inner ones of errors written out.
    fn documented() -> BTreeSet<String> {
        let mut keys = BTreeSet::new();
        for line in REFERENCE.lines().filter(|l| l.starts_with("| `")) {
            let mut cells = line.split('|').map(str::trim).skip(1);
            let key = cells.next().unwrap().trim_matches('`');
            let value = cells.next().unwrap();
            if key == "times.…" {
                let names = value.split('`').skip(1).step_by(2);
                keys.extend(names.map(|n| format!("times.{n}")));
            } else if let Some(inner) = value.strip_prefix("`{").and_then(|v| v.strip_suffix("}`")) {
                keys.extend(inner.split(',').map(|i| format!("{key}.{}", i.trim())));
            } else {
                keys.insert(key.to_owned());
            }
        }
        keys
    }

    #[test]
    fn every_key_of_the_reference_has_a_field_and_no_field_is_made_up() {
        let fields = GROUPS.iter().flat_map(|g| g.fields).map(|f| f.key.to_owned());
        let all: Vec<String> = fields
            .chain(operation_times().iter().map(|t| times_key(&t.key)))
            .chain(ROWS.map(str::to_owned))
            .collect();
        let shown: BTreeSet<String> = all.iter().cloned().collect();
        assert_eq!(shown.len(), all.len(), "a key stands twice");
        let documented = documented();
        assert!(documented.len() > 70, "{documented:?}");
        assert_eq!(shown, documented);
    }

    #[test]
    fn a_documented_choice_is_a_choice_of_the_field() {
        for (key, words) in [
            ("saw.teeth", &["flat top", "alternate top bevel"][..]),
            ("saw.tilts", &["left", "right"]),
            ("shop.units", &["mm", "in"]),
            ("shop.fineness", &["16", "32", "64"]),
        ] {
            let row = REFERENCE.lines().find(|l| l.starts_with(&format!("| `{key}`"))).unwrap();
            let field = GROUPS.iter().flat_map(|g| g.fields).find(|f| f.key == key).unwrap();
            let (Kind::Choice(choices) | Kind::NumberChoice(choices)) = field.kind else {
                panic!("{key} is no choice");
            };
            let offered: Vec<&str> = choices.iter().map(|(w, _)| *w).collect();
            assert_eq!(offered, words, "{key}");
            assert!(words.iter().all(|w| row.contains(w)), "{row}");
        }
    }

    #[test]
    fn the_words_below_a_group_are_in_the_glossary() {
        for word in GROUPS.iter().flat_map(|g| g.words) {
            assert!(keepwright_model::shop::words::word(word).is_some(), "{word}");
        }
    }
}
