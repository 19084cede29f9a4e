//! How long a wall takes to cut, and a drawing of a box to make.

use core::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use keepwright_model::solids::{
    Shell, Solid, View, block_face, intersection_volume, project_shells, visible_faces,
};
use keepwright_model::space::{Convex, Plane, Pose, Vec3};
use keepwright_model::units::{Angle, Length};

/// Miters, a groove and key slots at both ends, as a list of regions.
fn cuts(length: f64, thickness: f64, keys: u8) -> Vec<Convex> {
    let mut made = vec![
        Convex::new(vec![Plane::through(Vec3::new(0.0, 0.0, thickness), Vec3::new(1.0, 0.0, 1.0))]),
        Convex::new(vec![Plane::through(Vec3::new(length, 0.0, thickness), Vec3::new(-1.0, 0.0, 1.0))]),
        Convex::block(Vec3::new(-1.0, 6.0, -1.0), Vec3::new(length + 1.0, 12.0, 0.5 * thickness)),
    ];
    for key in 0..keys {
        let low = 20.0 + 20.0 * f64::from(key);
        for (u, lean) in [(10.0, -1.0), (length - 10.0, 1.0)] {
            let bottom = Plane::through(Vec3::new(u, 0.0, thickness), Vec3::new(lean, 0.0, 1.0));
            made.push(Convex::new(vec![
                bottom.flipped(),
                Plane::through(Vec3::new(0.0, low, 0.0), -Vec3::Y),
                Plane::through(Vec3::new(0.0, low + 3.0, 0.0), Vec3::Y),
            ]));
        }
    }
    made
}

fn wall(length: f64, cuts: &[Convex]) -> Solid {
    let mut s = Solid::block(Length::mm(length), Length::mm(90.0), Length::mm(12.0));
    for (cut, tag) in cuts.iter().zip(block_face::FIRST_CUT..) {
        s.cut(cut, tag);
    }
    s
}

/// Forty walls drawn apart: every second pair of them hides part of the next.
fn exploded() -> Vec<Shell> {
    let shell = wall(300.0, &cuts(300.0, 12.0, 1)).shell();
    (0..40u8)
        .map(|i| {
            let origin = Vec3::new(40.0 * f64::from(i % 4), 50.0 * f64::from(i / 4), 60.0 * f64::from(i % 3));
            let u = if i % 2 == 0 { Vec3::X } else { Vec3::Y };
            shell.posed(&Pose::new(origin, u, Vec3::Z))
        })
        .collect()
}

fn solids(c: &mut Criterion) {
    let regions = cuts(300.0, 12.0, 3);
    c.bench_function("wall with miters, groove and six key slots, with volume", |b| {
        b.iter(|| wall(black_box(300.0), &regions).volume());
    });
    let solid = wall(300.0, &regions);
    c.bench_function("outer faces of that wall", |b| {
        b.iter(|| black_box(&solid).shell());
    });
    c.bench_function("mesh of that wall", |b| b.iter(|| black_box(&solid).mesh()));
    let moved = solid.posed(&Pose::new(Vec3::new(5.0, 3.0, 2.0), Vec3::X, Vec3::Y));
    c.bench_function("overlap of two such walls", |b| {
        b.iter(|| intersection_volume(black_box(&solid), &moved));
    });
    let shells = exploded();
    let items: Vec<(&Shell, u32)> = shells.iter().zip(0..).collect();
    let edges: usize = shells.iter().map(|s| s.edges(Angle::ZERO).len()).sum();
    c.bench_function(&format!("drawing of 40 parts, {edges} edges, hidden lines told apart"), |b| {
        b.iter(|| project_shells(black_box(&items), &View::ISOMETRIC, Angle::degrees(20.0)));
    });
    c.bench_function("tinting of 40 parts", |b| {
        b.iter(|| visible_faces(black_box(&items), &View::ISOMETRIC));
    });
}

criterion_group! {
    name = benches;
    config = Criterion::default().sample_size(30).measurement_time(core::time::Duration::from_secs(2));
    targets = solids
}
criterion_main!(benches);
