//! The few colours that a speckled or two-toned pot is made of.

use super::space::Lab;

/// One of the colours, and the share of pixels that carry it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Cluster {
    pub(super) colour: Lab,
    pub(super) share: f64,
    pub(super) spread: f64,
}

/// Spread of hue above which a pot is not of one colour.
pub(super) const ONE_COLOUR: f64 = 6.0;

pub(super) fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    match values.len() {
        0 => f64::NAN,
        n if n % 2 == 1 => values[n / 2],
        n => f64::midpoint(values[n / 2 - 1], values[n / 2]),
    }
}

/// The middle colour, channel by channel, and the mean distance from it in the plane of hues.
pub(super) fn middle(pixels: &[Lab]) -> (Lab, f64) {
    let channel = |of: fn(&Lab) -> f64| median(pixels.iter().map(of).collect());
    let colour = Lab { l: channel(|p| p.l), a: channel(|p| p.a), b: channel(|p| p.b) };
    let away: f64 = pixels.iter().map(|pixel| (pixel.a - colour.a).hypot(pixel.b - colour.b)).sum();
    (colour, away / pixels.len() as f64)
}

/// How many times their own spread two colours must lie apart to count as two; grain alone parts by about twice. A choice of
/// ours.
const PARTED: f64 = 3.0;

/// The colours of the pixels, largest first: one where the hues lie together, else two to four, as many as stand apart.
pub(super) fn colours(pixels: &[Lab]) -> Vec<Cluster> {
    let (colour, spread) = middle(pixels);
    let one = vec![Cluster { colour, share: 1.0, spread }];
    if spread <= ONE_COLOUR {
        return one;
    }
    (2..=4).rev().map(|k| parted(pixels, colour, k)).find(|parts| stand_apart(parts)).unwrap_or(one)
}

fn stand_apart(parts: &[Cluster]) -> bool {
    let far = |a: &Cluster, b: &Cluster| {
        apart(a.colour, b.colour).sqrt() > PARTED * f64::midpoint(a.spread, b.spread)
    };
    parts.iter().enumerate().all(|(at, a)| parts[at + 1..].iter().all(|b| far(a, b)))
}

fn apart(a: Lab, b: Lab) -> f64 {
    (a.l - b.l).powi(2) + (a.a - b.a).powi(2) + (a.b - b.b).powi(2)
}

/// Parted about `k` middles, sown from the whole's middle outwards, so that the same photo always parts the same way.
fn parted(pixels: &[Lab], whole: Lab, k: usize) -> Vec<Cluster> {
    let nearest = |seeds: &[Lab], pixel: Lab| {
        let away = |&at: &usize| apart(seeds[at], pixel);
        (0..seeds.len()).min_by(|a, b| away(a).total_cmp(&away(b))).unwrap_or(0)
    };
    let mut seeds = vec![whole];
    while seeds.len() < k {
        let far = |pixel: &&Lab| apart(seeds[nearest(&seeds, **pixel)], **pixel);
        let Some(&next) = pixels.iter().max_by(|a, b| far(a).total_cmp(&far(b))) else { break };
        seeds.push(next);
    }
    let mut own = vec![0; pixels.len()];
    for _ in 0..50 {
        let now: Vec<usize> = pixels.iter().map(|&pixel| nearest(&seeds, pixel)).collect();
        let settled = now == own;
        own = now;
        for (at, seed) in seeds.iter_mut().enumerate() {
            let mine = pixels.iter().zip(&own).filter(|&(_, &own)| own == at).map(|(pixel, _)| pixel);
            let (n, l, a, b) =
                mine.fold((0.0, 0.0, 0.0, 0.0), |(n, l, a, b), p| (n + 1.0, l + p.l, a + p.a, b + p.b));
            if n > 0.0 {
                *seed = Lab { l: l / n, a: a / n, b: b / n };
            }
        }
        if settled {
            break;
        }
    }
    let mut parts: Vec<Cluster> = (0..seeds.len())
        .filter_map(|at| {
            let mine: Vec<Lab> =
                pixels.iter().zip(&own).filter(|&(_, &o)| o == at).map(|(p, _)| *p).collect();
            let (colour, spread) = middle(&mine);
            let share = mine.len() as f64 / pixels.len() as f64;
            (!mine.is_empty()).then_some(Cluster { colour, share, spread })
        })
        .collect();
    parts.sort_by(|a, b| b.share.total_cmp(&a.share));
    parts
}
