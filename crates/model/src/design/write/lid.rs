//! The lid's sections.

use super::block::{Block, Otherwise, floats, inline, wood_pairs};
use super::{Writer, key_depth};
use crate::design::lid::{Frame, LidKind, PanelHold, Registration, SawnTop};
use crate::design::read::{Kind, Register};
use crate::design::statement::Build;
use crate::design::usual;
use crate::units::Length;

impl Writer<'_> {
    pub(super) fn lid(&self, out: &mut String) {
        let lid = &self.statement.lid;
        let mut b = self.block("[lid]");
        let kind = match &lid.kind {
            LidKind::None => return,
            LidKind::Frame(frame) => {
                b.text("kind", "frame");
                self.frame(&mut b, frame);
                Kind::Frame
            }
            LidKind::Slab { build, thickness } => {
                b.text("kind", "slab");
                b.build(build, self.walls, Otherwise::SolidLikeWalls);
                b.length_unless("thickness", *thickness, usual::LID_THICKNESS);
                Kind::Slab
            }
            LidKind::Sawn { height, kerf, clean_up, .. } => {
                b.text("kind", "sawn");
                b.length_unless("height", *height, usual::SAWN_HEIGHT);
                b.length_unless("kerf", *kerf, usual::SAWN_KERF);
                b.length_unless("clean_up", *clean_up, usual::SAWN_CLEAN_UP);
                Kind::Sawn
            }
            LidKind::Sliding { build, thickness, groove_depth, side_play, thickness_play, below_rim } => {
                b.text("kind", "sliding");
                b.build(build, self.walls, Otherwise::SolidLikeWalls);
                b.length_unless("thickness", *thickness, usual::SLIDING_THICKNESS);
                b.length_unless("groove_depth", *groove_depth, usual::SLIDING_GROOVE);
                b.length_unless("side_play", *side_play, usual::SIDE_PLAY);
                b.length_unless("thickness_play", *thickness_play, usual::THICKNESS_PLAY);
                b.length_unless("below_rim", *below_rim, usual::BELOW_RIM);
                Kind::Sliding
            }
        };
        self.registration(&mut b, kind);
        if matches!(kind, Kind::Frame | Kind::Slab) {
            b.length_unless("overhang", lid.overhang, Length::ZERO);
        }
        b.end(out);
        match &lid.kind {
            LidKind::Frame(frame) => self.frame_sections(frame, out),
            LidKind::Sawn { top, .. } => self.top(top, out),
            _ => {}
        }
    }

    fn registration(&self, b: &mut Block, kind: Kind) {
        let registration = self.statement.lid.registration;
        let (register, word) = match registration {
            Registration::None => (Register::None, "none"),
            Registration::Lip { .. } => (Register::Lip, "lip"),
            Registration::Rabbet { .. } => (Register::Rabbet, "rabbet"),
            Registration::Lining => (Register::Lining, "lining"),
            Registration::Hinges => (Register::Hinges, "hinges"),
        };
        if register != kind.usual_register(self.statement.hinges.is_some()) {
            b.text("registration", word);
        }
        match registration {
            Registration::Lip { height, thickness, play } => {
                b.length_unless("lip_height", height, usual::LIP_HEIGHT);
                b.length_unless("lip_thickness", thickness, usual::LIP_THICKNESS);
                b.length_unless("lip_play", play, usual::LIP_PLAY);
            }
            Registration::Rabbet { depth, play } => {
                b.length_unless("rabbet_depth", depth, usual::LID_RABBET_DEPTH);
                b.length_unless("rabbet_play", play, usual::LID_RABBET_PLAY);
            }
            Registration::None | Registration::Lining | Registration::Hinges => {}
        }
    }

    fn frame(&self, b: &mut Block, frame: &Frame) {
        match frame.woods.as_slice() {
            [one] => b.wood(one, self.walls),
            several => {
                let list: Vec<String> =
                    several.iter().map(|wood| inline(&wood_pairs(wood, self.walls))).collect();
                b.raw("woods", &format!("[{}]", list.join(", ")));
            }
        }
        b.length_unless("member", frame.member, usual::FRAME_MEMBER);
        b.length_unless("thickness", frame.thickness, usual::LID_THICKNESS);
    }

    fn frame_sections(&self, frame: &Frame, out: &mut String) {
        if let Some(keys) = &frame.keys {
            let mut b = self.block("[lid.keys]");
            if let Some(row) = keys.rows.first() {
                b.wood(&row.wood, self.walls);
                b.length_unless("thickness", row.thickness, usual::KEY_THICKNESS);
            }
            key_depth(&mut b, keys.depth);
            b.end_even_empty(out);
        }
        let mut b = self.block("[lid.panel]");
        b.build(&frame.panel.build, self.walls, Otherwise::Sheet);
        b.length_unless("thickness", frame.panel.thickness, usual::PANEL_THICKNESS);
        panel_hold(&mut b, frame.panel.hold, &frame.panel.build, usual::PANEL_DEPTH);
        b.end(out);
    }

    fn top(&self, top: &SawnTop, out: &mut String) {
        let mut b = self.block("[lid.top]");
        b.build(&top.build, self.walls, Otherwise::Sheet);
        b.length_unless("thickness", top.thickness, usual::TOP_THICKNESS);
        panel_hold(&mut b, top.hold, &top.build, usual::TOP_DEPTH);
        b.end(out);
    }
}

fn panel_hold(b: &mut Block, hold: PanelHold, build: &Build, usual_depth: Length) {
    let floats = floats(build);
    match hold {
        PanelHold::GluedBetween => b.text("hold", "glued between"),
        PanelHold::Groove { depth } => {
            if !floats {
                b.text("hold", "groove");
            }
            b.length_unless("depth", depth, usual_depth);
        }
        PanelHold::Rabbeted { depth } => {
            if floats {
                b.text("hold", "rabbet");
            }
            b.length_unless("depth", depth, usual_depth);
        }
    }
}
