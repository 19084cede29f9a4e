//! Law: a statement written to a file and read again is the same statement.

use keepwright_model::design::{
    Base, Bottom, BottomHold, Build, Cloth, Coat, Contents, CornerJoint, CornerName, Defaults, Dividers,
    Edges, FingerJoint, Finish, FinishKind, Frame, FramePanel, Hinges, Inside, Item, KeyDepth, KeyRow, Keys,
    Lid, LidKind, Lining, LooseTongue, PanelHold, Profile, Pull, Registration, RingCut, SawnTop, Shape, Size,
    SizeAt, Spacing, Statement, StripMethod, Strips, Tray, TrayJoint, WallCut, Walls, WoodUse,
    read_statement, show_problems, write_statement,
};
use keepwright_model::units::{Angle, Length, LengthUnit};
use proptest::prelude::*;

/// Choices drawn one after the other from a list of numbers; zero when the list is used up.
struct Draw {
    numbers: Vec<u32>,
    at: usize,
}

impl Draw {
    fn below(&mut self, bound: u32) -> u32 {
        let number = self.numbers.get(self.at).copied().unwrap_or(0);
        self.at += 1;
        number % bound
    }

    fn coin(&mut self) -> bool {
        self.below(2) == 1
    }

    fn from<T: Clone>(&mut self, list: &[T]) -> T {
        let index = self.below(u32::try_from(list.len()).unwrap_or(1));
        list[index as usize].clone()
    }

    /// Above zero: fractions of an inch, tenths of a millimeter, or any number.
    fn length(&mut self) -> Length {
        match self.below(3) {
            0 => Length::inches(f64::from(1 + self.below(1000)) / 64.0),
            1 => Length::mm(f64::from(1 + self.below(9000)) / 10.0),
            _ => Length::mm(f64::from(1 + self.below(u32::MAX)) / 1_234_567.0 + 0.01),
        }
    }

    fn play(&mut self) -> Length {
        if self.coin() { Length::ZERO } else { self.length() }
    }

    fn maybe(&mut self) -> Option<Length> {
        self.coin().then(|| self.length())
    }

    fn text(&mut self) -> String {
        self.from(&["", "Tea", "two\nlines", "a \"b\" \\ c\t\u{1}\u{7f}é漢", "= [x] # no"]).to_owned()
    }

    fn sheet(&mut self) -> String {
        self.from(&["baltic_birch", "hardboard"]).to_owned()
    }

    fn wood(&mut self) -> WoodUse {
        WoodUse {
            wood: self.from(&["cherry_black", "ash_white", "maple_sugar"]).to_owned(),
            rings: match self.below(5) {
                0 => RingCut::Rift,
                1 => RingCut::QuarterSawn,
                2 => RingCut::At(Angle::degrees(f64::from(self.below(900)) / 10.0)),
                _ => RingCut::FlatSawn,
            },
        }
    }

    fn build(&mut self) -> Build {
        match self.below(4) {
            0 => Build::Solid(self.wood()),
            1 => Build::Striped(Strips {
                pattern: (0..=self.below(3)).map(|_| (self.wood(), self.length())).collect(),
            }),
            2 => Build::Sheet(self.sheet()),
            _ => Build::Veneered { core: self.sheet(), face: self.wood(), veneer: self.length() },
        }
    }

    fn place(&mut self) -> Spacing {
        match self.below(3) {
            0 => Spacing::Even { count: 1 + self.below(9) },
            1 => Spacing::Between { count: 1 + self.below(9), from_foot: self.play(), from_rim: self.play() },
            _ => Spacing::Heights((0..=self.below(4)).map(|_| self.length()).collect()),
        }
    }

    fn rows(&mut self) -> Vec<KeyRow> {
        (0..=self.below(3))
            .map(|_| KeyRow { wood: self.wood(), thickness: self.length(), place: self.place() })
            .collect()
    }

    fn key_depth(&mut self) -> KeyDepth {
        if self.coin() { KeyDepth::Depth(self.length()) } else { KeyDepth::LeaveSkin(self.play()) }
    }

    fn corners(&mut self, sides: u32) -> CornerJoint {
        match self.below(4) {
            0 => CornerJoint::Miter,
            1 => {
                let mut per_corner = Vec::new();
                for corner in 0..sides {
                    match self.below(4) {
                        0 => per_corner.push((CornerName(corner), self.rows())),
                        1 => per_corner.push((CornerName(corner), Vec::new())),
                        _ => {}
                    }
                }
                let none = !per_corner.is_empty() && self.below(4) == 0;
                CornerJoint::Keyed(Keys {
                    rows: if none { Vec::new() } else { self.rows() },
                    per_corner,
                    depth: self.key_depth(),
                })
            }
            2 => CornerJoint::Tongue(LooseTongue {
                wood: self.wood(),
                thickness: self.length(),
                width: self.length(),
                stopped: self.play(),
            }),
            _ => CornerJoint::Fingers(FingerJoint { finger: self.length(), play: self.play() }),
        }
    }

    fn size(&mut self, sides: u32) -> Size {
        let (length, height) = (self.length(), self.length());
        let depth = if sides == 4 { self.length() } else { length };
        match self.below(3) {
            0 => Size::Outside { length, depth, height },
            1 => Size::Inside { length, depth, height },
            _ => Size::Contents(Contents {
                items: (0..=self.below(3))
                    .map(|_| Item {
                        name: self.text(),
                        length: self.length(),
                        depth: self.length(),
                        height: self.length(),
                        along: 1 + self.below(9),
                        across: 1 + self.below(9),
                        up: 1 + self.below(9),
                    })
                    .collect(),
                slack: self.play(),
                above: self.play(),
            }),
        }
    }

    fn hold(&mut self) -> PanelHold {
        match self.below(2) {
            0 => PanelHold::Groove { depth: self.length() },
            _ => PanelHold::Rabbeted { depth: self.length() },
        }
    }

    fn lid(&mut self, lined: bool) -> Lid {
        let kind = match self.below(5) {
            0 => LidKind::None,
            1 => LidKind::Frame(Frame {
                woods: (0..=3 * self.below(2)).map(|_| self.wood()).collect(),
                member: self.length(),
                thickness: self.length(),
                keys: self.coin().then(|| Keys {
                    rows: vec![KeyRow {
                        wood: self.wood(),
                        thickness: self.length(),
                        place: Spacing::Even { count: 1 },
                    }],
                    per_corner: Vec::new(),
                    depth: self.key_depth(),
                }),
                panel: FramePanel {
                    build: self.build(),
                    thickness: self.length(),
                    hold: if self.coin() { self.hold() } else { PanelHold::GluedBetween },
                },
            }),
            2 => LidKind::Slab { build: self.build(), thickness: self.length() },
            3 => LidKind::Sawn {
                height: self.length(),
                kerf: self.length(),
                clean_up: self.play(),
                top: SawnTop { build: self.build(), thickness: self.length(), hold: self.hold() },
            },
            _ => LidKind::Sliding {
                build: self.build(),
                thickness: self.length(),
                groove_depth: self.length(),
                side_play: self.play(),
                thickness_play: self.play(),
                below_rim: self.length(),
            },
        };
        let lies = !matches!(kind, LidKind::None | LidKind::Sliding { .. });
        let registration = match self.below(5) {
            _ if !lies => Registration::None,
            0 => Registration::Lip { height: self.length(), thickness: self.length(), play: self.play() },
            1 => Registration::Rabbet { depth: self.length(), play: self.play() },
            2 if lined => Registration::Lining,
            3 => Registration::Hinges,
            _ => Registration::None,
        };
        let overhang =
            if matches!(kind, LidKind::Frame(_) | LidKind::Slab { .. }) { self.play() } else { Length::ZERO };
        Lid { kind, registration, overhang }
    }

    fn inside(&mut self) -> Inside {
        Inside {
            lining: self.coin().then(|| Lining {
                wood: self.wood(),
                thickness: self.length(),
                proud: self.length(),
            }),
            tray: self.coin().then(|| Tray {
                wood: self.wood(),
                thickness: self.length(),
                height: self.length(),
                bottom: self.length(),
                bottom_sheet: self.sheet(),
                joint: if self.coin() { TrayJoint::Miter } else { TrayJoint::Fingers(self.length()) },
                play: self.play(),
                covers_pct: 1 + self.below(100),
                bearer: (self.length(), self.length()),
            }),
            dividers: self.coin().then(|| Dividers {
                wood: self.wood(),
                thickness: self.length(),
                height: self.length(),
                cells_along: 2 + self.below(9),
                cells_across: 1 + self.below(9),
                play: self.play(),
            }),
            cloth: self.coin().then(|| Cloth {
                name: self.text(),
                thickness: self.length(),
                on_walls: self.coin(),
            }),
        }
    }

    fn base(&mut self) -> Base {
        match self.below(3) {
            0 => Base::None,
            1 => Base::Feet {
                wood: self.wood(),
                side: self.length(),
                height: self.length(),
                inset: self.play(),
            },
            _ => Base::Plinth {
                wood: self.wood(),
                thickness: self.length(),
                height: self.length(),
                proud: if self.coin() { self.length() } else { -self.length() },
            },
        }
    }

    fn hinges(&mut self) -> Hinges {
        Hinges {
            count: 1 + self.below(4),
            leaf_length: self.length(),
            leaf_width: self.length(),
            leaf_thickness: self.length(),
            knuckle: self.length(),
            screw_gauge: self.below(9),
            screw_length: self.length(),
            screws_per_leaf: 1 + self.below(4),
            from_end: self.play(),
            opens_to: Angle::degrees(f64::from(90 + self.below(90))),
        }
    }

    fn profile(&mut self) -> Profile {
        match self.below(3) {
            0 => Profile::Sharp,
            1 => Profile::Chamfer(self.length()),
            _ => Profile::RoundOver(self.length()),
        }
    }

    fn coat(&mut self) -> Coat {
        let kind = self.from(&[
            FinishKind::None,
            FinishKind::Oil,
            FinishKind::Wax,
            FinishKind::OilAndWax,
            FinishKind::Shellac,
            FinishKind::WipingVarnish,
            FinishKind::WaterBorne,
        ]);
        Coat { kind, coats: if kind == FinishKind::None { 0 } else { 1 + self.below(9) } }
    }

    fn bottom(&mut self) -> Bottom {
        Bottom {
            build: self.build(),
            thickness: self.length(),
            hold: match self.below(3) {
                0 => BottomHold::Rabbet { depth: self.maybe(), clearance: self.play() },
                1 => {
                    BottomHold::Groove { depth: self.maybe(), above_edge: self.maybe(), tongue: self.maybe() }
                }
                _ => BottomHold::Ledge { width: self.length(), height: self.length() },
            },
        }
    }

    fn walls(&mut self, sides: u32) -> Walls {
        Walls {
            wood: self.wood(),
            thickness: self.length(),
            cut: match self.below(3) {
                0 if sides == 4 => WallCut::BookmatchedPair,
                1 => WallCut::Loose,
                _ => WallCut::OneStrip,
            },
            method: if self.coin() {
                StripMethod::MiterFromStrip
            } else {
                StripMethod::SquareFirst { trim: self.play() }
            },
            closing_corner: self.coin().then(|| CornerName(self.below(sides))),
        }
    }

    fn statement(&mut self) -> Statement {
        let sides = if self.coin() { 4 } else { 3 + self.below(10) };
        let inside = self.inside();
        let lid = self.lid(inside.lining.is_some());
        Statement {
            name: self.text(),
            note: self.text(),
            count: 1 + self.below(5000),
            size: self.size(sides),
            shape: Shape {
                sides,
                splay: Angle::degrees(f64::from(self.below(1200)) / 10.0 - 60.0),
                size_at: if self.coin() { SizeAt::Rim } else { SizeAt::Foot },
            },
            walls: self.walls(sides),
            corners: self.corners(sides),
            bottom: self.bottom(),
            pull: (lid.kind != LidKind::None && self.coin()).then(|| Pull {
                build: match self.build() {
                    Build::Striped(strips) => Build::Striped(strips),
                    _ => Build::Solid(self.wood()),
                },
                length: self.length(),
                width: self.length(),
                height: self.length(),
                bevel: self.play(),
            }),
            hinges: (lid.registration == Registration::Hinges).then(|| self.hinges()),
            lid,
            inside,
            base: self.base(),
            edges: Edges {
                lid_top: self.profile(),
                rim: self.profile(),
                foot: self.profile(),
                corners: self.profile(),
            },
            finish: Finish { outside: self.coat(), inside: self.coat(), inside_first: self.coin() },
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, ..ProptestConfig::default() })]

    #[test]
    fn written_and_read_it_is_the_same(numbers in prop::collection::vec(any::<u32>(), 0..300)) {
        let s = Draw { numbers, at: 0 }.statement();
        for (unit, other) in [
            (LengthUnit::Millimeter, LengthUnit::Inch),
            (LengthUnit::Inch, LengthUnit::Millimeter),
        ] {
            let text = write_statement(&s, unit);
            // A wood is known here by its id only; the shop's unit does not matter to a written file.
            let back = read_statement(&text, &Defaults { length_unit: other }, &|id| Ok(id.to_owned()));
            match back {
                Ok(back) => prop_assert_eq!(&back, &s, "{}", text),
                Err(problems) => prop_assert!(false, "{}", show_problems(&problems, "f", &text)),
            }
        }
    }
}

/// What is usual is left out, and lengths are written as a maker would.
#[test]
fn writes_short() {
    let given = "keepwright = 1\nname = \"Pencil box\"\n\n[size]\noutside = { length = \"9 in\", depth = \"115 mm\", \
                 height = \"2 3/4 in\" }\n\n[walls]\nwood = \"cherry\"\n\n[lid]\nkind = \"slab\"\noverhang = \"1/8 in\"\n";
    let read = read_statement(given, &Defaults::default(), &|id| Ok(id.to_owned()));
    assert_eq!(read.map(|s| write_statement(&s, LengthUnit::Inch)), Ok(given.to_owned()));
}
