//! Lines cut to an outline: hatching, and clipping where a format knows no clip.

use super::Point;

/// Parallel lines inside a closed outline (even-odd), `spacing` apart, at `angle` degrees.
pub(crate) fn lines(outline: &[Point], angle: f64, spacing: f64) -> Vec<[Point; 2]> {
    let mut lines = Vec::new();
    if outline.len() < 3 || !angle.is_finite() || !spacing.is_finite() || spacing < 0.05 {
        return lines;
    }
    let (sin, cos) = angle.to_radians().sin_cos();
    let turned: Vec<Point> = outline.iter().map(|[x, y]| [x * cos + y * sin, y * cos - x * sin]).collect();
    let low = turned.iter().map(|p| p[1]).fold(f64::INFINITY, f64::min);
    let high = turned.iter().map(|p| p[1]).fold(f64::NEG_INFINITY, f64::max);
    let mut level = ((low / spacing).floor() + 0.5) * spacing;
    while level < high && lines.len() < 20_000 {
        for pair in crossings(&turned, level).chunks_exact(2) {
            if let [from, to] = *pair {
                let back = |along: f64| [along * cos - level * sin, along * sin + level * cos];
                if to - from > 1e-6 {
                    lines.push([back(from), back(to)]);
                }
            }
        }
        level += spacing;
    }
    lines
}

/// Where the level line crosses the outline, from left to right.
fn crossings(outline: &[Point], level: f64) -> Vec<f64> {
    let mut at: Vec<f64> = edges(outline)
        .filter(|[[_, y1], [_, y2]]| (*y1 > level) != (*y2 > level))
        .map(|[[x1, y1], [x2, y2]]| x1 + (level - y1) / (y2 - y1) * (x2 - x1))
        .collect();
    at.sort_by(f64::total_cmp);
    at
}

/// The outline's edges, the closing one included.
fn edges(outline: &[Point]) -> impl Iterator<Item = [Point; 2]> + '_ {
    outline.iter().zip(outline.iter().cycle().skip(1)).map(|(a, b)| [*a, *b])
}

/// The pieces of a line that lie inside a closed outline (even-odd).
pub(crate) fn clipped(from: Point, to: Point, outline: &[Point]) -> Vec<[Point; 2]> {
    let direction = [to[0] - from[0], to[1] - from[1]];
    let along = |t: f64| [from[0] + t * direction[0], from[1] + t * direction[1]];
    let mut stops = vec![0.0, 1.0];
    for [a, b] in edges(outline) {
        let edge = [b[0] - a[0], b[1] - a[1]];
        let cross = direction[0] * edge[1] - direction[1] * edge[0];
        if cross.abs() > 1e-12 {
            let gap = [a[0] - from[0], a[1] - from[1]];
            let t = (gap[0] * edge[1] - gap[1] * edge[0]) / cross;
            let u = (gap[0] * direction[1] - gap[1] * direction[0]) / cross;
            if (0.0..=1.0).contains(&t) && (0.0..=1.0).contains(&u) {
                stops.push(t);
            }
        }
    }
    stops.sort_by(f64::total_cmp);
    let mut pieces: Vec<(f64, f64)> = Vec::new();
    for pair in stops.windows(2) {
        if let [start, end] = *pair
            && end - start > 1e-9
            && inside(along(f64::midpoint(start, end)), outline)
        {
            match pieces.last_mut() {
                Some((_, last)) if *last >= start => *last = end,
                _ => pieces.push((start, end)),
            }
        }
    }
    pieces.into_iter().map(|(start, end)| [along(start), along(end)]).collect()
}

/// Whether a point lies inside a closed outline (even-odd).
pub(crate) fn inside(point: Point, outline: &[Point]) -> bool {
    let [x, y] = point;
    edges(outline).filter(|[[_, y1], [_, y2]]| (*y1 > y) != (*y2 > y)).fold(false, |within, [a, b]| {
        let at = a[0] + (y - a[1]) / (b[1] - a[1]) * (b[0] - a[0]);
        if at > x { !within } else { within }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const SQUARE: [Point; 4] = [[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [0.0, 10.0]];

    #[test]
    fn hatching_fills_a_square() {
        // Level lines 2 mm apart in a 10 mm square: five of 10 mm.
        let lines = lines(&SQUARE, 0.0, 2.0);
        assert_eq!(lines.len(), 5);
        for [from, to] in &lines {
            assert!((to[0] - from[0] - 10.0).abs() < 1e-9);
        }
        // At 45 degrees the lines' total length times their distance is near the area.
        let slanted = super::lines(&SQUARE, 45.0, 0.1);
        let sum: f64 = slanted.iter().map(|[a, b]| (b[0] - a[0]).hypot(b[1] - a[1])).sum();
        assert!((sum * 0.1 - 100.0).abs() < 0.1, "{sum}");
    }

    #[test]
    fn a_line_is_cut_to_a_square() {
        let pieces = clipped([-5.0, 5.0], [15.0, 5.0], &SQUARE);
        assert_eq!(pieces.len(), 1);
        assert!((pieces[0][0][0]).abs() < 1e-9 && (pieces[0][1][0] - 10.0).abs() < 1e-9);
        assert!(clipped([-5.0, 20.0], [15.0, 20.0], &SQUARE).is_empty());
    }
}
