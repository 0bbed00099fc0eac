//! Which way a shoot grows, and the room that a bud sees when a design is to be filled.

/// What bends a shoot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pull {
    /// Weight of the free or bright side (ξ).
    pub free: f64,
    /// Weight of what pulls all shoots, as up (η).
    pub all: f64,
}

/// The direction of a shoot: its own, bent to the free side and by what pulls all shoots, of length one.
///
/// ```text
/// normalise(own + ξ·V + η·T)
/// ```
///
/// **Holds** for a sum that is not nothing; then its own direction is kept. **Error** none of its own. **Source** Palubicki et al.
/// 2009, read in an implementation. **Checked** `tests/growth.rs`.
pub fn shoot_direction(own: [f64; 3], free: [f64; 3], all: [f64; 3], pull: Pull) -> [f64; 3] {
    let sum = [0, 1, 2].map(|k| own[k] + pull.free * free[k] + pull.all * all[k]);
    normal(sum).unwrap_or(own)
}

/// The same direction of length one; none for nothing.
pub(crate) fn normal(way: [f64; 3]) -> Option<[f64; 3]> {
    let length = way.iter().map(|part| part * part).sum::<f64>().sqrt();
    (length > 1e-12).then(|| way.map(|part| part / length))
}

/// A bud that looks for room.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Looking {
    /// Where it is.
    pub place: [f64; 3],
    /// Which way it looks.
    pub way: [f64; 3],
}

/// How buds look for room.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    /// How far they see.
    pub far: f64,
    /// Half the angle that they see, °.
    pub half_angle: f64,
    /// The room that a bud takes around itself.
    pub takes: f64,
}

/// What a bud found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Found {
    /// How many free spots are nearest to it.
    pub spots: usize,
    /// Which way they lie; none without a spot.
    pub way: Option<[f64; 3]>,
}

/// Shares the free spots of a space among buds: those a bud takes vanish from `spots`, each other goes to the nearest bud that sees it.
///
/// **Holds** for filling a given outline. **Error** none of its own. **Source** space colonisation, Runions et al. 2007 as used by
/// Palubicki et al. 2009, read in an implementation. **Checked** `tests/growth.rs`.
pub fn share_room(buds: &[Looking], spots: &mut Vec<[f64; 3]>, view: View) -> Vec<Found> {
    let between = |from: [f64; 3], to: [f64; 3]| [0, 1, 2].map(|k| to[k] - from[k]);
    let length = |way: [f64; 3]| way.iter().map(|part| part * part).sum::<f64>().sqrt();
    spots.retain(|spot| buds.iter().all(|bud| length(between(bud.place, *spot)) > view.takes));
    let narrow = view.half_angle.to_radians().cos();
    let mut sums = vec![([0.0; 3], 0); buds.len()];
    for spot in spots.iter() {
        let sees = |bud: &Looking| {
            let way = between(bud.place, *spot);
            let (far, ahead) = (length(way), length(bud.way));
            let cosine = (0..3).map(|k| way[k] * bud.way[k]).sum::<f64>() / (far * ahead);
            (far <= view.far && cosine >= narrow).then_some((far, way))
        };
        let seeing = buds.iter().enumerate().filter_map(|(at, bud)| Some((at, sees(bud)?)));
        if let Some((at, (far, way))) = seeing.min_by(|one, other| one.1.0.total_cmp(&other.1.0)) {
            (0..3).for_each(|k| sums[at].0[k] += way[k] / far);
            sums[at].1 += 1;
        }
    }
    sums.into_iter().map(|(sum, spots)| Found { spots, way: normal(sum).filter(|_| spots > 0) }).collect()
}
