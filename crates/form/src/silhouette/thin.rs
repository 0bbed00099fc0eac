//! Thinning an outline to lines, and counting where they end.

use super::Mask;

/// The mask thinned to lines of one pixel (Zhang and Suen 1984).
///
/// A lone block of two by two pixels goes with it. Thin a picture at about half a millimetre a pixel: the time grows with the thickest part.
pub fn thinned(mask: &Mask) -> Mask {
    let (width, height) = (mask.width() + 2, mask.height() + 2);
    let mut on = vec![0_u8; width * height];
    let mut edge: Vec<usize> = Vec::new();
    for y in 0..mask.height() {
        for (from, to) in mask.runs(y) {
            on[(y + 1) * width + from + 1..(y + 1) * width + to + 1].fill(1);
        }
    }
    edge.extend((0..on.len()).filter(|&at| on[at] == 1));
    let around = [
        -(width as isize),
        1 - width as isize,
        1,
        1 + width as isize,
        width as isize,
        width as isize - 1,
        -1,
        -(width as isize) - 1,
    ];
    let mut gone: Vec<usize> = Vec::new();
    loop {
        let mut changed = false;
        for second in [false, true] {
            gone.clear();
            gone.extend(edge.iter().copied().filter(|&at| goes(&on, at, &around, second)));
            for &at in &gone {
                on[at] = 0;
            }
            changed |= !gone.is_empty();
            edge.retain(|&at| on[at] == 1);
        }
        if !changed {
            break;
        }
    }
    Mask::by(mask.width(), mask.height(), |x, y| on[(y + 1) * width + x + 1] == 1)
}

/// Whether a pixel goes in a pass: not an end, not a bridge, and on the side that this pass takes.
fn goes(on: &[u8], at: usize, around: &[isize; 8], second: bool) -> bool {
    let p = around.map(|step| on[at.wrapping_add_signed(step)]);
    let count: u8 = p.iter().sum();
    if !(2..=6).contains(&count) {
        return false;
    }
    let rises = (0..8).filter(|&k| p[k] == 0 && p[(k + 1) % 8] == 1).count();
    let [north, east, south, west] = [p[0], p[2], p[4], p[6]];
    rises == 1
        && if second {
            north * east * west == 0 && north * south * west == 0
        } else {
            north * east * south == 0 && east * south * west == 0
        }
}

/// How many ends the lines of a thinned mask have: pixels with one neighbour.
pub fn end_points(lines: &Mask) -> usize {
    let near = |x: usize, y: usize| {
        let beside = |dx: isize, dy: isize| {
            let (x, y) = (x.checked_add_signed(dx), y.checked_add_signed(dy));
            matches!((x, y), (Some(x), Some(y)) if lines.on(x, y))
        };
        let all = [(-1, -1), (0, -1), (1, -1), (-1, 0), (1, 0), (-1, 1), (0, 1), (1, 1)];
        all.into_iter().filter(|&(dx, dy)| beside(dx, dy)).count()
    };
    let set = (0..lines.height())
        .flat_map(|y| lines.runs(y).flat_map(move |(from, to)| (from..to).map(move |x| (x, y))));
    set.filter(|&(x, y)| near(x, y) == 1).count()
}
