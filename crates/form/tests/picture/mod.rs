//! Pictures made by formula, as the reference set describes them: pixel (column, row) has its middle at (column + 0.5, row + 0.5).
#![allow(dead_code, reason = "each check uses its own part")]

use form::silhouette::{Mask, Raster};
use serde_json::Value;

use super::vector::{number, rows};

/// A thick line.
#[derive(Clone, Copy)]
pub struct Capsule {
    pub from: [f64; 2],
    pub to: [f64; 2],
    pub width: f64,
}

/// Sets the pixels whose middle lies in a capsule.
fn draw(on: &mut [bool], [width, height]: [usize; 2], line: Capsule) {
    let half = line.width / 2.0;
    let span = |a: f64, b: f64, size: usize| {
        let low = (a.min(b) - half - 1.0).floor().max(0.0) as usize;
        (low, ((a.max(b) + half + 1.0).ceil().max(0.0) as usize).min(size))
    };
    let (left, right) = span(line.from[0], line.to[0], width);
    let (top, bottom) = span(line.from[1], line.to[1], height);
    let way = [line.to[0] - line.from[0], line.to[1] - line.from[1]];
    let square = way[0] * way[0] + way[1] * way[1];
    for row in top..bottom {
        for column in left..right {
            let (x, y) = (column as f64 + 0.5, row as f64 + 0.5);
            let along = ((x - line.from[0]) * way[0] + (y - line.from[1]) * way[1]) / square;
            let along = along.clamp(0.0, 1.0);
            let off = [x - line.from[0] - along * way[0], y - line.from[1] - along * way[1]];
            if off[0].hypot(off[1]) <= half {
                on[row * width + column] = true;
            }
        }
    }
}

fn tree(
    lines: &mut Vec<Capsule>,
    recipe: &Value,
    from: [f64; 2],
    [angle, length, width]: [f64; 3],
    depth: u64,
) {
    let (sine, cosine) = angle.to_radians().sin_cos();
    let to = [from[0] + length * cosine, from[1] - length * sine];
    lines.push(Capsule { from, to, width });
    if depth == 0 {
        return;
    }
    let thinner = width * number(recipe, "w_ratio");
    let left = [angle + number(recipe, "theta_left"), length * number(recipe, "r_left"), thinner];
    tree(lines, recipe, to, left, depth - 1);
    let right = [angle - number(recipe, "theta_right"), length * number(recipe, "r_right"), thinner];
    tree(lines, recipe, to, right, depth - 1);
}

fn koch(lines: &mut Vec<Capsule>, from: [f64; 2], to: [f64; 2], width: f64, level: u64) {
    if level == 0 {
        lines.push(Capsule { from, to, width });
        return;
    }
    let third = [(to[0] - from[0]) / 3.0, (to[1] - from[1]) / 3.0];
    let first = [from[0] + third[0], from[1] + third[1]];
    let last = [from[0] + 2.0 * third[0], from[1] + 2.0 * third[1]];
    let (sine, cosine) = (-60_f64).to_radians().sin_cos();
    let apex =
        [first[0] + third[0] * cosine - third[1] * sine, first[1] + third[0] * sine + third[1] * cosine];
    for pair in [[from, first], [first, apex], [apex, last], [last, to]] {
        koch(lines, pair[0], pair[1], width, level - 1);
    }
}

fn list(value: &Value) -> Vec<f64> {
    rows(value).iter().map(|number| number.as_f64().unwrap()).collect()
}

/// The mask of a recipe.
pub fn mask(recipe: &Value) -> Mask {
    let whole = |name: &str| recipe[name].as_u64().unwrap_or_else(|| panic!("{name}"));
    let kind = recipe["kind"].as_str().unwrap();
    let (width, height) = match kind {
        "square" | "sierpinski" => (whole("n") as usize, whole("n") as usize),
        "carpet" => (3_usize.pow(whole("k") as u32), 3_usize.pow(whole("k") as u32)),
        _ => (whole("width") as usize, whole("height") as usize),
    };
    let at = |x: &str, y: &str| [number(recipe, x), number(recipe, y)];
    let mut lines = Vec::new();
    match kind {
        "square" => return Mask::by(width, height, |_, _| true),
        "sierpinski" => return Mask::by(width, height, |x, y| x & y == 0),
        "carpet" => {
            return Mask::by(width, height, |x, y| {
                let hole = |place: u32| x / 3_usize.pow(place) % 3 == 1 && y / 3_usize.pow(place) % 3 == 1;
                !(0..whole("k") as u32).any(hole)
            });
        }
        "disc" => {
            let ([cx, cy], r) = (at("cx", "cy"), number(recipe, "r"));
            return Mask::by(width, height, |x, y| {
                (x as f64 + 0.5 - cx).powi(2) + (y as f64 + 0.5 - cy).powi(2) <= r * r
            });
        }
        "tree" => {
            let start = [number(recipe, "angle"), number(recipe, "L0"), number(recipe, "w0")];
            tree(&mut lines, recipe, at("x0", "y0"), start, whole("depth"));
        }
        "koch" => koch(&mut lines, at("x0", "y0"), at("x1", "y1"), number(recipe, "w"), whole("level")),
        "pads" => {}
        other => panic!("no recipe {other}"),
    }
    let mut on = vec![false; width * height];
    if kind == "pads" {
        for ellipse in rows(&recipe["ellipses"]) {
            let [cx, cy, a, b] = list(ellipse)[..] else { panic!("an ellipse") };
            for (at, pixel) in on.iter_mut().enumerate() {
                let (x, y) = ((at % width) as f64 + 0.5, (at / width) as f64 + 0.5);
                *pixel |= ((x - cx) / a).powi(2) + ((y - cy) / b).powi(2) <= 1.0;
            }
        }
        for capsule in rows(&recipe["capsules"]) {
            let [x0, y0, x1, y1, width] = list(capsule)[..] else { panic!("a capsule") };
            lines.push(Capsule { from: [x0, y0], to: [x1, y1], width });
        }
    }
    for line in lines {
        draw(&mut on, [width, height], line);
    }
    Mask::new(width, height, &on).unwrap()
}

/// The grey picture of a mask by the recipe's two rows of constants.
pub fn grey(mask: &Mask, otsu: &Value) -> Raster {
    let constants = |name: &str| list(&otsu[name]).into_iter().map(|c| c as i64).collect::<Vec<i64>>();
    let (fg, bg) = (constants("fg"), constants("bg"));
    let mut luma = Vec::with_capacity(mask.width() * mask.height());
    for y in 0..mask.height() {
        for x in 0..mask.width() {
            let c = if mask.on(x, y) { &fg } else { &bg };
            luma.push((c[0] + (c[1] * x as i64 + c[2] * y as i64) % c[3] - c[4]) as u8);
        }
    }
    Raster::new(mask.width(), mask.height(), luma).unwrap()
}
