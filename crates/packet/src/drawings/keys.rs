//! Corner keys at full scale: both walls of a corner laid flat at the arris; the cradle that carries the box.

use super::place::{Scale, running};
use super::section::walls;
use super::{Shown, wood};
use crate::drawing::{Anchor, Dimension, Drawing, Leader, Line, Pen, Rise, Text};
use crate::faces::Face;
use keepwright_model::design::CornerName;
use keepwright_model::parts::{AssemblyOperation, BoxParts, Edge, Operation, Part};
use keepwright_model::saw::jig::{CradleCard, key_triangle};
use keepwright_model::space::Vec3;
use keepwright_model::units::{Angle, Length};

/// One key slot of a corner, millimeters.
struct Slot {
    number: u32,
    height: f64,
    thickness: f64,
    depth: f64,
}

/// The key slots of a corner of the box, from below.
fn slots(parts: &BoxParts, corner: CornerName) -> Vec<Slot> {
    let cuts = parts.assemblies.iter().flat_map(|a| &a.cuts);
    let mut slots: Vec<Slot> = cuts
        .filter_map(|c| match c.operation {
            AssemblyOperation::KeySlot { corner: at, in_lid: false, number, height, thickness, depth }
                if at == corner =>
            {
                let [height, thickness, depth] = [height, thickness, depth].map(Length::to_mm);
                Some(Slot { number, height, thickness, depth })
            }
            _ => None,
        })
        .collect();
    slots.sort_by(|a, b| a.height.total_cmp(&b.height));
    slots
}

/// The angle between two walls, measured inside, square to their arris.
fn interior(a: &Part, b: &Part) -> Angle {
    Angle::radians(core::f64::consts::PI - a.pose.w.dot(b.pose.w).clamp(-1.0, 1.0).acos())
}

/// Both walls of a corner laid flat at the arris, with every key: center height from the lower edge, thickness,
/// how much of it shows on each face, and the line on which a lid is sawn off. `None` for a corner without keys.
///
/// # Units
/// Millimeters of the box; show at scale 1. Heights count along the corner's arris.
pub fn key_layout(parts: &BoxParts, corner: CornerName, shown: Shown) -> Option<Drawing> {
    let slots = slots(parts, corner);
    let walls = walls(parts);
    let at = corner.0 as usize;
    let (left, right) = (*walls.get(at)?, *walls.get((at + 1) % walls.len().max(1))?);
    let first = slots.first()?;
    let angle = interior(left, right);
    let leg = slots.iter().map(|s| key_triangle(Length::mm(s.depth), angle).leg.to_mm()).fold(0.0, f64::max);
    let height = arris(left, right);
    let half = leg + 16.0;
    let mut drawing = Drawing::new();
    let tint = |p: &Part, side: f64| wood::shade(&p.wood, Vec3::new(0.0, -1.0, 0.0)).tint(side);
    drawing.rectangle([-half, 0.0], half, height, Some(tint(left, 0.75)), None);
    drawing.rectangle([0.0, 0.0], half, height, Some(tint(right, 0.6)), None);
    for slot in &slots {
        draw_slot(&mut drawing, parts, corner, slot, angle);
    }
    let pen = Pen::new(Line::Visible);
    for y in [0.0, height] {
        drawing.line([-half, y], [half, y], pen);
    }
    drawing.line([0.0, 0.0], [0.0, height], pen);
    for x in [-half, half] {
        drawing.break_line([x, -2.0], [x, height + 2.0]);
    }
    saw_line(&mut drawing, parts, rise(left, right), half, shown);
    names(&mut drawing, [left, right], half, height);
    let mut marks: Vec<(f64, String)> = slots.iter().map(|s| (s.height, shown.mm(s.height))).collect();
    let mut feet: Vec<f64> =
        slots.iter().map(|s| key_triangle(Length::mm(s.depth), angle).leg.to_mm() + 1.0).collect();
    marks.push((height, shown.mm(height)));
    feet.push(half + 1.0);
    running(&mut drawing, &marks, &feet, Scale::Right(half + 4.0), 3.2);
    drawing.line([half + 1.0, 0.0], [half + 9.0, 0.0], Pen::new(Line::Dimension));
    drawing.text(Text::new([half + 9.8, 0.0], "0").sized(3.2).hung(Anchor::Start, Rise::Middle));
    thicknesses(&mut drawing, &slots, half, shown);
    let shows = key_triangle(Length::mm(first.depth), angle).leg;
    let dim = Dimension::level([-shows.to_mm(), 0.0], [0.0, 0.0], -9.0, shown.dimension(shows));
    drawing.dimension(dim);
    let dim = Dimension::level([0.0, 0.0], [shows.to_mm(), 0.0], -9.0, shown.dimension(shows));
    drawing.dimension(dim);
    Some(drawing)
}

/// How fast the arris between two walls rises: the sine of its angle from level; one for upright walls.
fn rise(left: &Part, right: &Part) -> f64 {
    left.pose.w.cross(right.pose.w).unit().z.abs().max(0.05)
}

/// Length of the arris between two walls, along which key heights count.
fn arris(left: &Part, right: &Part) -> f64 {
    let rim = |p: &Part| {
        let [_, width, thick] = p.size.map(Length::to_mm);
        // A leaning wall's upper edge is beveled: its height counts on the show face.
        let edge = p.cuts.iter().find_map(|c| match c.operation {
            Operation::EdgeCut { edge: Edge::Upper, at, .. } => Some(at.to_mm()),
            _ => None,
        });
        p.pose.point(Vec3::new(0.0, edge.unwrap_or(width), thick)).z
    };
    rim(left).max(rim(right)) / rise(left, right)
}

/// One key as it shows on both faces.
fn draw_slot(drawing: &mut Drawing, parts: &BoxParts, corner: CornerName, slot: &Slot, angle: Angle) {
    let sides = u32::try_from(walls(parts).len()).unwrap_or(4);
    let name = format!("key {} {}", corner.words(sides), slot.number);
    let key = parts.parts.iter().find(|p| p.name == name);
    let fill = wood::color(key.map_or("", |k| k.wood.as_str())).tint(0.75);
    let leg = key_triangle(Length::mm(slot.depth), angle).leg.to_mm();
    let low = slot.height - slot.thickness / 2.0;
    let pen = Pen::new(Line::Visible).wide(0.35);
    drawing.rectangle([-leg, low], 2.0 * leg, slot.thickness, Some(fill), Some(pen));
    drawing.line([-leg - 3.0, slot.height], [leg + 1.0, slot.height], Pen::new(Line::Center));
}

/// The lid's saw line across both walls.
fn saw_line(drawing: &mut Drawing, parts: &BoxParts, rise: f64, half: f64, shown: Shown) {
    let Some((low, high)) = super::pieces::saw_band(parts) else { return };
    let (low, high) = (low / rise, high / rise);
    let pen = Pen::new(Line::CuttingPlane).colored(crate::ink::CANNOT);
    drawing.rectangle([-half, low], 2.0 * half, high - low, Some(crate::ink::CANNOT.tint(0.25)), None);
    drawing.line([-half, low], [half, low], pen);
    drawing.line([-half, high], [half, high], pen);
    let words = format!("lid sawn off, {} to {}", shown.mm(low), shown.mm(high));
    drawing.leader(Leader::new([-half + 4.0, f64::midpoint(low, high)], [-10.0, 9.0], words));
}

/// Names of the walls, the arris and the lower edge.
fn names(drawing: &mut Drawing, walls: [&Part; 2], half: f64, height: f64) {
    for (wall, x) in walls.iter().zip([-half / 2.0, half / 2.0]) {
        drawing.text(Text::new([x, height + 4.5], wall.name.clone()).faced(Face::Bold));
    }
    drawing.text(Text::new([-half - 3.0, 0.0], "lower edge").sized(2.8).hung(Anchor::End, Rise::Middle));
    drawing.text(
        Text::new([0.0, height + 10.0], "outside faces, laid flat at the corner")
            .sized(2.8)
            .colored(crate::ink::SOFT),
    );
}

/// Thickness of each key, in a column at the left.
fn thicknesses(drawing: &mut Drawing, slots: &[Slot], half: f64, shown: Shown) {
    for slot in slots {
        let low = slot.height - slot.thickness / 2.0;
        let words = shown.mm(slot.thickness);
        let x = -half - 5.0;
        let pen = Pen::new(Line::Dimension);
        for y in [low, low + slot.thickness] {
            drawing.line([-half + 12.0, y], [x - 1.5, y], pen);
        }
        drawing.line([x, low], [x, low + slot.thickness], pen);
        drawing.text(Text::new([x - 2.5, slot.height], words).sized(3.0).hung(Anchor::End, Rise::Middle));
    }
}

/// The cradle in section: the trough, its floor, and how high the blade stands for each depth of key.
///
/// # Units
/// Millimeters; full scale, its arms broken off above the highest blade.
pub fn cradle(card: &CradleCard, shown: Shown) -> Drawing {
    let mut drawing = Drawing::new();
    let floor = card.floor.to_mm();
    let mut blades: Vec<f64> = Vec::new();
    // Slots that this saw's kerf is too wide for are cut at the same height with a thinner blade.
    let thin = card.too_thin.iter().map(|k| k.depth.to_mm() + floor);
    for blade in card.rows.iter().map(|r| r.blade.to_mm()).chain(thin) {
        if !blades.iter().any(|b| (b - blade).abs() < 0.01) {
            blades.push(blade);
        }
    }
    blades.sort_by(f64::total_cmp);
    let highest = blades.last().copied().unwrap_or(floor);
    let up = (highest - floor + 16.0).min(card.trough.to_mm());
    let run = up / card.side_from_table.tan().max(0.05);
    let visible = Pen::new(Line::Visible);
    let timber = wood::color("").tint(0.35);
    // Table, floor and the two sides of the trough as one block with a V in it.
    let out = run + 14.0;
    drawing.rectangle([-out - 12.0, -7.0], 2.0 * out + 24.0, 7.0, Some(crate::ink::SOFT.tint(0.18)), None);
    drawing.line([-out - 12.0, 0.0], [out + 12.0, 0.0], visible);
    let block = [
        [-out, 0.0],
        [out, 0.0],
        [out, floor + up],
        [run, floor + up],
        [0.0, floor],
        [-run, floor + up],
        [-out, floor + up],
    ];
    drawing.polygon(block, Some(timber), None);
    drawing.cut_surface(block);
    drawing.polyline([[-run, floor + up], [0.0, floor], [run, floor + up]], visible);
    drawing.line([-out, 0.0], [-out, floor + up], visible);
    drawing.line([out, 0.0], [out, floor + up], visible);
    drawing.break_line([-out - 2.0, floor + up], [-run + 2.0, floor + up]);
    drawing.break_line([run - 2.0, floor + up], [out + 2.0, floor + up]);
    // The corner of the box in the trough: its inside stands where a slot would break through.
    let inner = floor + card.break_through.to_mm();
    let rest = (floor + up - inner).max(0.0) / card.side_from_table.tan().max(0.05);
    if rest > 0.0 {
        let pen = Pen::new(Line::Hidden);
        drawing.polyline([[-rest, floor + up], [0.0, inner], [rest, floor + up]], pen);
    }
    blade_heights(&mut drawing, &blades, floor, out, shown);
    drawing.dimension(Dimension::upright([-out, 0.0], [-out, floor], -9.0, shown.mm(floor)));
    let half: f64 = card.opens.to_degrees() / 2.0;
    let radius = up + 1.5;
    let top = [0.0, floor + radius + 3.4];
    drawing.arc([0.0, floor], radius, 90.0 - half * 0.55, 90.0 + half * 0.55, Pen::new(Line::Dimension));
    drawing.text(Text::new(top, format!("V of {}, box corner down", Shown::angle(card.opens))).sized(3.2));
    drawing.text(Text::new([0.0, -3.5], "saw table").sized(3.0));
    drawing
}

/// The blade's rim, and how high it stands for each depth of key.
fn blade_heights(drawing: &mut Drawing, blades: &[f64], floor: f64, out: f64, shown: Shown) {
    /// Half of a 10 in blade, by which the rim is drawn (common practice).
    const BLADE: f64 = 127.0;
    let blade = Pen::new(Line::CuttingPlane).wide(0.35);
    for height in blades {
        let center = [0.0, height - BLADE];
        // The rim down to the table, or as far as the cradle is drawn.
        let reach = (out + 8.0).min(BLADE);
        let half = (1.0 - height / BLADE).clamp(-1.0, 1.0).acos().min((reach / BLADE).asin()).to_degrees();
        drawing.arc(center, BLADE, 90.0 - half, 90.0 + half, blade);
        // Drawn through along the blade, every slot's bottom is this level line.
        drawing.line([-9.0, *height], [9.0, *height], Pen::new(Line::Visible).wide(0.35));
    }
    let marks: Vec<(f64, String)> = blades
        .iter()
        .map(|b| (*b, format!("blade {}, key {} deep", shown.mm(*b), shown.mm(b - floor))))
        .collect();
    let feet: Vec<f64> = blades.iter().map(|_| 10.0).collect();
    running(drawing, &marks, &feet, Scale::Right(out + 4.0), 3.2);
}
