//! Jig cards: the V cradle for corner keys, and the card for sawing a lid off.

use super::settings::{CradleBuild, Settings, Teeth};
use crate::reason::{Basis, Given, Reason, Value};
use crate::units::{Angle, Area, Length};

/// Depth along the diagonal at which a slot breaks through at the inside corner:
/// (t1 + t2) / (2·sin(interior / 2)); for a square corner of equal walls t·√2.
pub fn break_through(wall_1: Length, wall_2: Length, interior: Angle) -> Length {
    (wall_1 + wall_2) / (2.0 * (interior / 2.0).sin())
}

/// The triangle of a key that fills a slot of a given depth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KeyTriangle {
    /// Along each wall: what shows.
    pub leg: Length,
    /// The long edge, along which the grain runs.
    pub long_edge: Length,
    /// Area of one face of the key.
    pub area: Area,
}

/// The key for a depth measured from the corner's arris along the diagonal.
pub fn key_triangle(depth: Length, interior: Angle) -> KeyTriangle {
    let half = interior / 2.0;
    let long_edge = depth * (2.0 * half.tan());
    KeyTriangle { leg: depth / half.cos(), long_edge, area: long_edge * depth * 0.5 }
}

/// Depth of the V that alternate-bevel teeth leave at the bottom of a slot: kerf × tan(bevel).
pub fn v_at_bottom(kerf: Length, teeth: Teeth) -> Length {
    match teeth {
        Teeth::FlatTop => Length::ZERO,
        Teeth::AlternateBevel(bevel) => kerf * bevel.tan(),
    }
}

/// Blade height for a key depth in a cradle that holds the corner `floor` above the table.
pub fn blade_height(depth: Length, floor: Length) -> Length {
    depth + floor
}

/// Longest strip that triangular keys cut head to tail at 45° can need: (count + 1)(width + kerf·√2).
pub fn key_strip(count: u32, width: Length, kerf: Length) -> Length {
    (width + kerf * core::f64::consts::SQRT_2) * f64::from(count + 1)
}

/// Keys for a batch.
pub const fn keys_in_batch(boxes: u32, corners: u32, per_corner: u32) -> u32 {
    boxes * corners * per_corner
}

/// A key asked for: its center above the lower edge, its thickness and depth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KeyAsked {
    /// Center above the lower edge.
    pub height: Length,
    /// Thickness, the slot's width.
    pub thickness: Length,
    /// Depth along the diagonal.
    pub depth: Length,
}

/// One stop position of the cradle.
#[derive(Clone, Debug, PartialEq)]
pub struct CradleRow {
    /// Stop to the near side of the blade, one for each pass.
    pub distances: Vec<Length>,
    /// Blade height above the table.
    pub blade: Length,
    /// Centers above the lower edge that this position cuts with the lower edge on the stop.
    pub lower_on_stop: Vec<Length>,
    /// Centers that it cuts with the box turned end for end, upper edge on the stop.
    pub upper_on_stop: Vec<Length>,
}

/// How the cradle is built and set for a box.
#[derive(Clone, Debug, PartialEq)]
pub struct CradleCard {
    /// The V opens to this angle: the outside angle of the corner, equal to the interior one.
    pub opens: Angle,
    /// Each side of the V stands at this angle from the table.
    pub side_from_table: Angle,
    /// Height of the trough's sides above its bottom.
    pub trough: Length,
    /// Thickness of wood between table and trough bottom.
    pub floor: Length,
    /// Depth at which a slot would come through inside.
    pub break_through: Length,
    /// V left at the slot's bottom by the teeth; zero for flat-topped teeth.
    pub v_at_bottom: Length,
    /// Stop positions, each with its blade height.
    pub rows: Vec<CradleRow>,
    /// Keys whose slot is narrower than the saw's kerf and cannot be cut with it.
    pub too_thin: Vec<KeyAsked>,
    /// How the numbers came about.
    pub reasons: Vec<Reason>,
}

/// The cradle card for the keys of a corner.
///
/// # Units
/// `edge` is the length of the corner's arris (height of the walls), `wall` the walls' thickness.
pub fn cradle(
    keys: &[KeyAsked],
    edge: Length,
    wall: Length,
    interior: Angle,
    settings: &Settings,
) -> CradleCard {
    let CradleBuild { floor, trough } = settings.cradle;
    let saw = &settings.table_saw;
    let mut rows: Vec<CradleRow> = Vec::new();
    let mut too_thin = Vec::new();
    for key in keys {
        let flipped = key.height > edge / 2.0 + Length::mm(1e-6);
        let from_stop = if flipped { edge - key.height } else { key.height };
        let start = from_stop - key.thickness / 2.0;
        let overlap = settings.overlap.min(saw.kerf / 2.0);
        let Some(distances) = super::passes::trench(start, key.thickness, saw.kerf, overlap) else {
            too_thin.push(*key);
            continue;
        };
        let blade = blade_height(key.depth, floor);
        let near = |a: Length, b: Length| (a - b).abs() <= Length::mm(0.01);
        let known = rows.iter().position(|r| {
            near(r.blade, blade)
                && r.distances.len() == distances.len()
                && r.distances.iter().zip(&distances).all(|(a, b)| near(*a, *b))
        });
        let at = known.unwrap_or(rows.len());
        if known.is_none() {
            rows.push(CradleRow { distances, blade, lower_on_stop: Vec::new(), upper_on_stop: Vec::new() });
        }
        let Some(row) = rows.get_mut(at) else { continue };
        let list = if flipped { &mut row.upper_on_stop } else { &mut row.lower_on_stop };
        if !list.iter().any(|h| near(*h, key.height)) {
            list.push(key.height);
        }
    }
    CradleCard {
        opens: interior,
        side_from_table: Angle::SQUARE - interior / 2.0,
        trough,
        floor,
        break_through: break_through(wall, wall, interior),
        v_at_bottom: v_at_bottom(saw.kerf, saw.teeth),
        reasons: cradle_reasons(keys, floor),
        rows,
        too_thin,
    }
}

fn cradle_reasons(keys: &[KeyAsked], floor: Length) -> Vec<Reason> {
    let mut depths: Vec<Length> = Vec::new();
    for k in keys {
        if !depths.iter().any(|d| d.same(k.depth)) {
            depths.push(k.depth);
        }
    }
    depths
        .into_iter()
        .map(|depth| Reason {
            key: super::derive::key(super::Purpose::KeySlot, "height"),
            title: "blade height in the cradle".into(),
            formula: "key depth along the diagonal + cradle floor".into(),
            given: vec![
                Given::new("key depth", Value::Length(depth)),
                Given::new("cradle floor", Value::Length(floor)),
            ],
            result: Value::Length(blade_height(depth, floor)),
            basis: Basis::Derived("the corner's arris rests on the trough's bottom"),
        })
        .collect()
}

/// Which walls are sawn first when a lid is parted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LidOrder {
    /// Short walls first, so that the last cut is on a long wall that stands firmly.
    ShortFirst,
    /// Long walls first, then the short ones with shims in the kerfs.
    LongFirst,
}

/// How a lid is sawn off.
#[derive(Clone, Debug, PartialEq)]
pub struct LidCard {
    /// Fence to the near side of the blade, lower edge of the box on the fence.
    pub fence: Length,
    /// Blade height: wall less skin.
    pub blade: Length,
    /// Skin left all round, knifed through by hand.
    pub skin: Length,
    /// Thickness of the shims taped into the cuts made: the kerf.
    pub shims: Length,
    /// To be cleaned up on each sawn edge afterwards.
    pub clean_up: Length,
    /// The order used.
    pub order: LidOrder,
    /// The order used, the other one, and why.
    pub why: &'static str,
    /// How the numbers came about.
    pub reasons: Vec<Reason>,
}

/// The card for a lid sawn `height` above the lower edge.
pub fn lid(height: Length, kerf: Length, clean_up: Length, wall: Length, skin: Length) -> LidCard {
    let skin = skin.max(Length::ZERO).min(wall);
    let through = skin <= Length::ZERO;
    let blade = wall - skin;
    LidCard {
        fence: height,
        blade,
        skin,
        shims: kerf,
        clean_up,
        order: if through { LidOrder::LongFirst } else { LidOrder::ShortFirst },
        why: if through {
            "The blade comes through: the two long walls first, then the short ones with kerf-thick shims taped \
             into the long cuts, so that the kerf cannot close on the blade. The other order, short walls first, \
             wants a skin left to hold the halves."
        } else {
            "A skin is left, so the halves stay together: the two short walls first, then the long ones, so that the \
             last cut runs on a long wall that stands firmly (published how-tos). The other order, long walls \
             first and the short ones with shims in the kerf, is for a blade that comes through."
        },
        reasons: vec![Reason {
            key: super::derive::key(super::Purpose::SawOff, "height"),
            title: "blade height for sawing the lid off".into(),
            formula: "wall thickness − skin".into(),
            given: vec![
                Given::new("wall thickness", Value::Length(wall)),
                Given::new("skin", Value::Length(skin)),
            ],
            result: Value::Length(blade),
            basis: Basis::Published(
                "lid-sawing tips in woodworking magazines; skins of 1/64, 1/32 and 1/16 in are in print",
            ),
        }],
    }
}

/// Height to glue up so that body and lid come out at their sizes: body + lid + kerf + clean-up on both edges.
pub fn assembled_height(body: Length, lid: Length, kerf: Length, clean_up: Length) -> Length {
    body + lid + kerf + clean_up * 2.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::saw::compound::interior;

    fn near(a: f64, b: f64, within: f64, id: &str) {
        assert!((a - b).abs() <= within, "{id}: {a} instead of {b}");
    }

    /// Sources: KY-01..04, KY-07..09, derived geometry.
    #[test]
    fn keys() {
        let square = Angle::degrees(90.0);
        for (id, t, skin, through, d, leg, long, area) in [
            ("KY-01", 9.525, 1.5875, 13.4704, 11.8829, 16.8049, 23.7658, 141.203),
            ("KY-02", 12.0, 2.0, 16.9706, 14.9706, 21.1716, 29.9411, 224.118),
            ("KY-03", 6.35, 1.5, 8.9803, 7.4803, 10.5787, 14.9605, 55.954),
            ("KY-04", 19.05, 3.0, 26.9408, 23.9408, 33.8574, 47.8815, 573.160),
        ] {
            let b = break_through(Length::mm(t), Length::mm(t), square);
            near(b.to_mm(), through, 1e-4, id);
            let depth = b - Length::mm(skin);
            near(depth.to_mm(), d, 1e-4, id);
            let key = key_triangle(depth, square);
            near(key.leg.to_mm(), leg, 1e-4, id);
            near(key.long_edge.to_mm(), long, 1e-4, id);
            near(key.area.to_mm2(), area, 1e-3, id);
        }
        near(break_through(Length::mm(12.0), Length::mm(9.0), square).to_mm(), 14.8492, 1e-4, "KY-07");
        for (id, n, t, through, leg, long) in
            [("KY-08", 6, 12.0, 13.8564, 16.0, 27.7128), ("KY-09", 8, 10.0, 10.8239, 20.9050, 38.6274)]
        {
            near(break_through(Length::mm(t), Length::mm(t), interior(n)).to_mm(), through, 1e-4, id);
            let key = key_triangle(Length::mm(8.0), interior(n));
            near(key.leg.to_mm(), leg, 1e-4, id);
            near(key.long_edge.to_mm(), long, 1e-4, id);
        }
    }

    /// Sources: KY-10..13.
    #[test]
    fn cradle_numbers() {
        let teeth = Teeth::AlternateBevel(Angle::degrees(15.0));
        near(v_at_bottom(Length::mm(3.2), teeth).to_mm(), 0.8574, 1e-4, "KY-10");
        near(blade_height(Length::mm(12.9706), Length::mm(19.0)).to_mm(), 31.9706, 1e-9, "KY-11");
        near(key_strip(24, Length::mm(16.0), Length::mm(2.4)).to_mm(), 484.853, 1e-3, "KY-12");
        assert_eq!(keys_in_batch(12, 4, 3), 144, "KY-13");
    }

    /// Four keys placed symmetrically need two stop positions; turning the box end for end cuts the others.
    #[test]
    fn one_stop_cuts_two_rows() {
        let settings = Settings::small_shop();
        let keys: Vec<KeyAsked> = [15.0, 35.0, 55.0, 75.0]
            .iter()
            .map(|h| KeyAsked { height: Length::mm(*h), thickness: Length::mm(3.2), depth: Length::mm(12.0) })
            .collect();
        let card = cradle(&keys, Length::mm(90.0), Length::mm(12.0), Angle::degrees(90.0), &settings);
        assert_eq!(card.rows.len(), 2);
        near(card.rows[0].distances[0].to_mm(), 15.0 - 1.6, 1e-9, "first stop");
        assert_eq!(card.rows[0].upper_on_stop, vec![Length::mm(75.0)]);
        near(card.rows[0].blade.to_mm(), 24.0, 1e-9, "depth 12 + floor 12");
        near(card.side_from_table.to_degrees(), 45.0, 1e-9, "square V");
        let hexagon = cradle(&keys, Length::mm(90.0), Length::mm(12.0), interior(6), &settings);
        near(hexagon.opens.to_degrees(), 120.0, 1e-9, "PG-04");
        near(hexagon.side_from_table.to_degrees(), 30.0, 1e-9, "hexagon V");
    }

    /// Sources: GW-15, GW-16.
    #[test]
    fn lid_numbers() {
        let h = assembled_height(Length::mm(55.0), Length::mm(20.0), Length::mm(3.2), Length::mm(0.4));
        near(h.to_mm(), 79.0, 1e-9, "GW-15");
        let card = lid(
            Length::mm(55.4),
            Length::mm(3.2),
            Length::mm(0.4),
            Length::inches(3.0 / 8.0),
            Length::inches(1.0 / 32.0),
        );
        near(card.blade.to_inches(), 11.0 / 32.0, 1e-12, "GW-16");
        assert_eq!(card.order, LidOrder::ShortFirst);
    }
}
