//! Binary STL: the solid as triangles, in millimeters (the format itself names no unit).

use stl_io::{Triangle, Vector};

use crate::number::narrow;

/// Why a solid could not be written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Error {
    /// A triangle names a point that is not there.
    #[error("triangle {triangle} names point {point}, but there are only {points} points")]
    NoSuchPoint {
        /// Which triangle, from 0.
        triangle: usize,
        /// The point it names.
        point: usize,
        /// How many points there are.
        points: usize,
    },
    /// A coordinate is not a number.
    #[error("point {point} has a coordinate that is not a finite number")]
    NotFinite {
        /// Which point, from 0.
        point: usize,
    },
    /// The solid did not fit into memory.
    #[error("the solid could not be held in memory")]
    Memory,
}

/// The solid's triangles as binary STL. Points in millimeters; corners counter-clockwise seen from outside.
///
/// # Errors
/// [`Error::NoSuchPoint`] and [`Error::NotFinite`]; [`Error::Memory`] is not expected.
pub fn write(points: &[[f64; 3]], triangles: &[[usize; 3]]) -> Result<Vec<u8>, Error> {
    if let Some(point) = points.iter().position(|p| !p.iter().all(|v| v.is_finite())) {
        return Err(Error::NotFinite { point });
    }
    let mut faces = Vec::with_capacity(triangles.len());
    for (triangle, corners) in triangles.iter().enumerate() {
        let mut at = [[0.0; 3]; 3];
        for (place, &point) in at.iter_mut().zip(corners) {
            *place =
                *points.get(point).ok_or(Error::NoSuchPoint { triangle, point, points: points.len() })?;
        }
        let vector = |v: [f64; 3]| Vector::new(v.map(narrow));
        faces.push(Triangle { normal: vector(normal(at)), vertices: at.map(vector) });
    }
    let mut bytes = Vec::with_capacity(84 + 50 * faces.len());
    stl_io::write_stl(&mut bytes, faces.iter()).map_err(|_| Error::Memory)?;
    Ok(bytes)
}

/// The outward direction of a triangle; zero for one without area.
fn normal([a, b, c]: [[f64; 3]; 3]) -> [f64; 3] {
    let [ux, uy, uz] = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
    let [vx, vy, vz] = [c[0] - a[0], c[1] - a[1], c[2] - a[2]];
    let cross = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
    let length = cross.iter().map(|v| v * v).sum::<f64>().sqrt();
    if length > 0.0 { cross.map(|v| v / length) } else { [0.0; 3] }
}
