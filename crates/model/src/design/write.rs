//! Writing a statement as a file: short, for what is usual is left out, and read back to the same statement.

mod block;
mod lid;

use super::corner::{CornerJoint, KeyDepth, KeyRow, Keys, Spacing};
use super::inside::{Inside, TrayJoint};
use super::read::{FINISHES, FORMAT, usual_coats, usual_finish, usual_proud};
use super::statement::{
    Base, BottomHold, Coat, FinishKind, Profile, Shape, Size, SizeAt, Statement, StripMethod, WallCut,
    WoodUse,
};
use super::usual;
use crate::units::{Length, LengthUnit};
use block::{Block, Otherwise, degrees, floats, inline, length, lengths, text};

/// The statement as the text of a file, lengths preferably in `unit`.
///
/// [`super::read_statement`] gives the same statement back, if every part of it can be stated in a file at all:
/// a joint's or lid's keys that its kind has no use for are not written.
pub fn write_statement(statement: &Statement, unit: LengthUnit) -> String {
    let mut out = String::new();
    let writer = Writer { statement, unit, walls: &statement.walls.wood };
    writer.head(&mut out);
    writer.size(&mut out);
    writer.shape(&mut out);
    writer.walls(&mut out);
    writer.corners(&mut out);
    writer.bottom(&mut out);
    writer.lid(&mut out);
    writer.inside(&mut out);
    writer.base(&mut out);
    writer.pull(&mut out);
    writer.hinges(&mut out);
    writer.edges(&mut out);
    writer.finish(&mut out);
    out
}

struct Writer<'s> {
    statement: &'s Statement,
    unit: LengthUnit,
    walls: &'s WoodUse,
}

impl Writer<'_> {
    fn block(&self, header: &'static str) -> Block {
        Block::new(header, self.unit)
    }

    fn head(&self, out: &mut String) {
        let mut b = self.block("");
        b.raw("keepwright", &FORMAT.to_string());
        b.text_unless("name", &self.statement.name, usual::NAME);
        b.text_unless("note", &self.statement.note, "");
        b.count_unless("count", self.statement.count, 1);
        b.end(out);
    }

    fn size(&self, out: &mut String) {
        let edges = |l: Length, d: Length, h: Length| {
            let shown = |v| length(v, self.unit);
            if self.statement.shape.sides == 4 {
                inline(&[("length", shown(l)), ("depth", shown(d)), ("height", shown(h))])
            } else {
                inline(&[("across", shown(l)), ("height", shown(h))])
            }
        };
        match &self.statement.size {
            Size::Outside { length, depth, height } => {
                let mut b = self.block("[size]");
                b.raw("outside", &edges(*length, *depth, *height));
                b.end(out);
            }
            Size::Inside { length, depth, height } => {
                let mut b = self.block("[size]");
                b.raw("inside", &edges(*length, *depth, *height));
                b.end(out);
            }
            Size::Contents(contents) => {
                let mut b = self.block("[size.contents]");
                b.length_unless("slack", contents.slack, usual::SLACK);
                b.length_unless("above", contents.above, usual::ABOVE);
                b.end(out);
                for (i, item) in contents.items.iter().enumerate() {
                    let mut b = self.block("[[size.contents.item]]");
                    b.text_unless("name", &item.name, &format!("item {}", i + 1));
                    b.length("length", item.length);
                    b.length("depth", item.depth);
                    b.length("height", item.height);
                    b.count_unless("along", item.along, 1);
                    b.count_unless("across", item.across, 1);
                    b.count_unless("up", item.up, 1);
                    b.end(out);
                }
            }
        }
    }

    fn shape(&self, out: &mut String) {
        let Shape { sides, splay, size_at } = self.statement.shape;
        let mut b = self.block("[shape]");
        b.count_unless("sides", sides, 4);
        if splay.to_radians() != 0.0 {
            b.raw("lean_from_vertical", &degrees(splay));
        }
        if size_at == SizeAt::Foot {
            b.text("size_at", "foot");
        }
        b.end(out);
    }

    fn walls(&self, out: &mut String) {
        let walls = &self.statement.walls;
        let mut b = self.block("[walls]");
        b.needed_wood(&walls.wood);
        b.length_unless("thickness", walls.thickness, usual::WALL_THICKNESS);
        match walls.cut {
            WallCut::OneStrip => {}
            WallCut::BookmatchedPair => b.text("from", "bookmatched pair"),
            WallCut::Loose => b.text("from", "loose boards"),
        }
        if let StripMethod::SquareFirst { trim } = walls.method {
            b.text("ends", "square first");
            b.length_unless("square_trim", trim, usual::SQUARE_TRIM);
        }
        if let Some(corner) = walls.closing_corner {
            b.text("closing_corner", &corner.words(self.statement.shape.sides));
        }
        b.end(out);
    }

    fn corners(&self, out: &mut String) {
        let mut b = self.block("[corners]");
        match &self.statement.corners {
            CornerJoint::Miter => {}
            CornerJoint::Keyed(keys) => {
                b.text("joint", "keyed miter");
                self.keyed(b, keys, out);
                return;
            }
            CornerJoint::Tongue(tongue) => {
                b.text("joint", "loose tongue");
                b.wood(&tongue.wood, self.walls);
                b.length_unless("thickness", tongue.thickness, usual::TONGUE_THICKNESS);
                b.length_unless("width", tongue.width, usual::TONGUE_WIDTH);
                b.length_unless("stopped", tongue.stopped, usual::TONGUE_STOPPED);
            }
            CornerJoint::Fingers(fingers) => {
                b.text("joint", "finger joint");
                b.length_unless("finger", fingers.finger, usual::FINGER);
                b.length_unless("play", fingers.play, usual::FINGER_PLAY);
            }
        }
        b.end(out);
    }

    fn keyed(&self, mut b: Block, keys: &Keys, out: &mut String) {
        key_depth(&mut b, keys.depth);
        // What the section states is what its rows and patterns leave out.
        let (wood, thickness) = match keys.rows.as_slice() {
            [one] => (&one.wood, one.thickness),
            _ => (self.walls, usual::KEY_THICKNESS),
        };
        self.rows(b, &keys.rows, (self.walls, usual::KEY_THICKNESS), "[[corners.row]]", out);
        for (corner, rows) in &keys.per_corner {
            let mut b = self.block("[[corners.pattern]]");
            b.text("corner", &corner.words(self.statement.shape.sides));
            self.rows(b, rows, (wood, thickness), "[[corners.pattern.row]]", out);
        }
    }

    /// Rows of keys; those of a single row stand in the section itself, no keys at all as a count of none.
    fn rows(
        &self,
        mut b: Block,
        rows: &[KeyRow],
        (wood, thickness): (&WoodUse, Length),
        header: &'static str,
        out: &mut String,
    ) {
        if rows.is_empty() {
            b.raw("count", "0");
        }
        if let [one] = rows {
            self.row(&mut b, one, wood, thickness);
            b.end(out);
            return;
        }
        b.end(out);
        for row in rows {
            let mut b = self.block(header);
            self.row(&mut b, row, wood, thickness);
            b.end_even_empty(out);
        }
    }

    fn row(&self, b: &mut Block, row: &KeyRow, wood: &WoodUse, thickness: Length) {
        b.wood(&row.wood, wood);
        b.length_unless("thickness", row.thickness, thickness);
        match &row.place {
            Spacing::Even { count } => b.count_unless("count", *count, usual::KEY_COUNT),
            Spacing::Between { count, from_foot, from_rim } => {
                b.count_unless("count", *count, usual::KEY_COUNT);
                b.length("from_foot", *from_foot);
                b.length("from_rim", *from_rim);
            }
            Spacing::Heights(heights) => b.raw("heights", &lengths(heights, self.unit)),
        }
    }

    fn bottom(&self, out: &mut String) {
        let bottom = &self.statement.bottom;
        let mut b = self.block("[bottom]");
        b.build(&bottom.build, self.walls, Otherwise::Sheet);
        b.length_unless("thickness", bottom.thickness, usual::BOTTOM_THICKNESS);
        let floats = floats(&bottom.build);
        match bottom.hold {
            BottomHold::Rabbet { depth, clearance } => {
                if floats {
                    b.text("hold", "rabbet");
                }
                b.length_if("depth", depth);
                b.length_unless("clearance", clearance, usual::BOTTOM_CLEARANCE);
            }
            BottomHold::Groove { depth, above_edge, tongue } => {
                if !floats {
                    b.text("hold", "groove");
                }
                b.length_if("depth", depth);
                b.length_if("above_edge", above_edge);
                b.length_if("tongue", tongue);
            }
            BottomHold::Ledge { width, height } => {
                b.text("hold", "ledge");
                b.length_unless("ledge_width", width, usual::LEDGE_WIDTH);
                b.length_unless("ledge_height", height, usual::LEDGE_HEIGHT);
            }
        }
        b.end(out);
    }

    fn inside(&self, out: &mut String) {
        let Inside { lining, tray, dividers, cloth } = &self.statement.inside;
        if let Some(lining) = lining {
            let mut b = self.block("[inside.lining]");
            b.wood(&lining.wood, self.walls);
            b.length_unless("thickness", lining.thickness, usual::LINING_THICKNESS);
            let proud = usual_proud(&self.statement.lid.registration);
            b.length_unless("proud", lining.proud, proud);
            b.end_even_empty(out);
        }
        if let Some(tray) = tray {
            let mut b = self.block("[inside.tray]");
            b.wood(&tray.wood, self.walls);
            b.length_unless("thickness", tray.thickness, usual::TRAY_THICKNESS);
            b.length_unless("height", tray.height, usual::TRAY_HEIGHT);
            b.length_unless("bottom", tray.bottom, usual::TRAY_BOTTOM);
            b.text_unless("bottom_sheet", &tray.bottom_sheet, usual::SHEET);
            if let TrayJoint::Fingers(finger) = tray.joint {
                b.text("joint", "finger joint");
                b.length_unless("finger", finger, usual::TRAY_FINGER);
            }
            b.length_unless("play", tray.play, usual::TRAY_PLAY);
            b.count_unless("covers_pct", tray.covers_pct, 100);
            b.length_unless("bearer_width", tray.bearer.0, usual::BEARER_WIDTH);
            b.length_unless("bearer_height", tray.bearer.1, usual::BEARER_HEIGHT);
            b.end_even_empty(out);
        }
        if let Some(dividers) = dividers {
            let mut b = self.block("[inside.dividers]");
            b.wood(&dividers.wood, self.walls);
            b.length_unless("thickness", dividers.thickness, usual::DIVIDER_THICKNESS);
            b.length_unless("height", dividers.height, usual::DIVIDER_HEIGHT);
            b.count_unless("cells_along", dividers.cells_along, 1);
            b.count_unless("cells_across", dividers.cells_across, 1);
            b.length_unless("play", dividers.play, usual::DIVIDER_PLAY);
            b.end_even_empty(out);
        }
        if let Some(cloth) = cloth {
            let mut b = self.block("[inside.cloth]");
            b.text_unless("name", &cloth.name, usual::CLOTH_NAME);
            b.length_unless("thickness", cloth.thickness, usual::CLOTH_THICKNESS);
            b.flag_unless("on_walls", cloth.on_walls, false);
            b.end_even_empty(out);
        }
    }

    fn base(&self, out: &mut String) {
        let mut b = self.block("[base]");
        match &self.statement.base {
            Base::None => {}
            Base::Feet { wood, side, height, inset } => {
                b.text("kind", "feet");
                b.wood(wood, self.walls);
                b.length_unless("side", *side, usual::FOOT_SIDE);
                b.length_unless("height", *height, usual::FOOT_HEIGHT);
                b.length_unless("inset", *inset, usual::FOOT_INSET);
            }
            Base::Plinth { wood, thickness, height, proud } => {
                b.text("kind", "plinth");
                b.wood(wood, self.walls);
                b.length_unless("thickness", *thickness, usual::PLINTH_THICKNESS);
                b.length_unless("height", *height, usual::PLINTH_HEIGHT);
                b.length_unless("proud", *proud, usual::PLINTH_PROUD);
            }
        }
        b.end(out);
    }

    fn pull(&self, out: &mut String) {
        let Some(pull) = &self.statement.pull else {
            return;
        };
        let mut b = self.block("[pull]");
        b.build(&pull.build, self.walls, Otherwise::SolidLikeWalls);
        b.length_unless("length", pull.length, usual::PULL_LENGTH);
        b.length_unless("width", pull.width, usual::PULL_WIDTH);
        b.length_unless("height", pull.height, usual::PULL_HEIGHT);
        b.length_unless("bevel", pull.bevel, usual::PULL_BEVEL);
        b.end_even_empty(out);
    }

    fn hinges(&self, out: &mut String) {
        let Some(hinges) = &self.statement.hinges else {
            return;
        };
        let mut b = self.block("[hinges]");
        b.count_unless("count", hinges.count, usual::HINGE_COUNT);
        b.length_unless("leaf_length", hinges.leaf_length, usual::LEAF_LENGTH);
        b.length_unless("leaf_width", hinges.leaf_width, usual::LEAF_WIDTH);
        b.length_unless("leaf_thickness", hinges.leaf_thickness, usual::LEAF_THICKNESS);
        b.length_unless("knuckle", hinges.knuckle, usual::KNUCKLE);
        b.count_unless("screw_gauge", hinges.screw_gauge, usual::SCREW_GAUGE);
        b.length_unless("screw_length", hinges.screw_length, usual::SCREW_LENGTH);
        b.count_unless("screws_per_leaf", hinges.screws_per_leaf, usual::SCREWS_PER_LEAF);
        b.length_unless("from_end", hinges.from_end, usual::FROM_END);
        if hinges.opens_to != crate::units::Angle::degrees(usual::OPENS_TO_DEGREES) {
            b.raw("opens_to_degrees", &degrees(hinges.opens_to));
        }
        b.end_even_empty(out);
    }

    fn edges(&self, out: &mut String) {
        let edges = &self.statement.edges;
        let mut b = self.block("[edges]");
        for (key, profile) in
            [("lid_top", edges.lid_top), ("rim", edges.rim), ("foot", edges.foot), ("corners", edges.corners)]
        {
            match profile {
                Profile::Sharp => {}
                Profile::Chamfer(width) => {
                    b.raw(key, &inline(&[("chamfer", length(width, self.unit))]));
                }
                Profile::RoundOver(radius) => {
                    b.raw(key, &inline(&[("round_over", length(radius, self.unit))]));
                }
            }
        }
        b.end(out);
    }

    fn finish(&self, out: &mut String) {
        let (finish, usual_way) = (self.statement.finish, usual_finish());
        let mut b = self.block("[finish]");
        if finish.outside != usual_way.outside {
            b.raw("outside", &coat(finish.outside));
        }
        if finish.inside != usual_way.inside {
            b.raw("inside", &coat(finish.inside));
        }
        b.flag_unless("inside_first", finish.inside_first, usual_way.inside_first);
        b.end(out);
    }
}

fn key_depth(b: &mut Block, depth: KeyDepth) {
    match depth {
        KeyDepth::Depth(depth) => b.length("depth", depth),
        KeyDepth::LeaveSkin(skin) => b.length_unless("skin", skin, usual::KEY_SKIN),
    }
}

fn coat(coat: Coat) -> String {
    let word = FINISHES.iter().find(|(_, kind)| *kind == coat.kind).map_or("none", |(word, _)| *word);
    if coat.kind == FinishKind::None || coat.coats == usual_coats(coat.kind) {
        text(word)
    } else {
        inline(&[("kind", text(word)), ("coats", coat.coats.to_string())])
    }
}
