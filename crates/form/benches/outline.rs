//! How long it takes to cut a tree out of a photo of twelve megapixels and to measure its outline.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use form::silhouette::{Raster, boxes, canopy, end_points, shape, sides, thinned, threshold};

const WIDE: usize = 4000;
const HIGH: usize = 3000;

/// Four pads on a trunk before a cloth that grows lighter to the right, with grain.
fn photo() -> Raster {
    let pads =
        [[2003.0, 500.0, 450.0, 160.0], [1400.0, 1050.0, 560.0, 150.0], [2600.0, 1430.0, 600.0, 160.0]];
    let tree = |x: f64, y: f64| {
        let inside = |[cx, cy, a, b]: &[f64; 4]| ((x - cx) / a).powi(2) + ((y - cy) / b).powi(2) <= 1.0;
        pads.iter().any(inside)
            || (y > 500.0 && (x - 2003.0 - 60.0 * (y / 300.0).sin()).abs() < 30.0 + y / 30.0)
    };
    let mut luma = Vec::with_capacity(WIDE * HIGH);
    for y in 0..HIGH {
        for x in 0..WIDE {
            let grain = ((7 * x + 13 * y) % 31) as f64;
            let light = if tree(x as f64, y as f64) { 50.0 } else { 170.0 + 30.0 * x as f64 / WIDE as f64 };
            luma.push((light + grain) as u8);
        }
    }
    Raster::new(WIDE, HIGH, luma).expect("a photo")
}

fn outline(c: &mut Criterion) {
    let photo = photo();
    let mut group = c.benchmark_group("form/outline");
    group.sample_size(20);
    group.bench_function("12_megapixels", |b| {
        b.iter(|| {
            let cut = threshold::cut_out(black_box(&photo), Some(2900)).expect("a tree");
            let shape = shape::shape(&cut.mask).expect("a shape");
            let sides = sides::sides(&cut.mask, 2000.0).expect("two sides");
            let layers = sides::layers(&cut.mask);
            let crown = canopy::canopy(&cut.mask, 20);
            let counts: Vec<_> = (0..9).map(|k| boxes::boxes(&cut.mask, 1 << k).expect("boxes")).collect();
            let dimension = boxes::dimension(&counts, [2, 128]).expect("a dimension");
            assert!((1_000_000..1_400_000).contains(&shape.area), "{}", shape.area);
            assert_eq!(layers.len(), 3);
            assert!(
                cut.threshold.parts > 0.9 && sides.mirror > 0.1 && crown.porosity < 0.05 && dimension > 1.5
            );
            (shape, sides, dimension)
        });
    });
    let small = threshold::cut_out(&photo, Some(2900)).expect("a tree").mask.smaller(5);
    group.bench_function("ends_800x600", |b| {
        b.iter(|| {
            let ends = end_points(&thinned(black_box(&small)));
            assert!((3..60).contains(&ends), "{ends}");
            ends
        });
    });
    group.finish();
}

criterion_group!(benches, outline);
criterion_main!(benches);
