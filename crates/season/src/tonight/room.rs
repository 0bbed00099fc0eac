//! Few spaces for many trees: which tree gets which place so that the least is lost in all.

/// Gives each tree at most one place so that the sum of gains is the greatest; a tree without one stays.
///
/// `gains[tree][place]` is what the tree keeps there that it would lose where it stands, none where the place does not serve; `free` is
/// each place's room. Trees come in one by one, each by the chain of moves that gains most, so that the whole stays the best at every
/// step (successive shortest paths on the flow from trees to places).
///
/// **Holds** for any gains. **Error** none. **Source** Ahuja, Magnanti and Orlin 1993, Network Flows, chapter 9 (successive shortest
/// path), remembered. **Checked** against every possible assignment of small cases, in this file.
///
/// ```
/// use season::tonight::room::give_room;
///
/// let gains = [vec![Some(5.0), Some(4.0)], vec![Some(3.0), None], vec![Some(1.0), None]];
/// assert_eq!(give_room(&gains, &[1, 1]), [Some(1), Some(0), None]);
/// ```
pub fn give_room(gains: &[Vec<Option<f64>>], free: &[usize]) -> Vec<Option<usize>> {
    let mut given: Vec<Option<usize>> = vec![None; gains.len()];
    let mut room = Room { gains, free, at: &mut given };
    for tree in 0..gains.len() {
        room.take_in(tree);
    }
    given
}

struct Room<'a> {
    gains: &'a [Vec<Option<f64>>],
    free: &'a [usize],
    at: &'a mut Vec<Option<usize>>,
}

/// The best tree to send from one place to another, with what that gains.
type Step = Option<(f64, usize)>;

impl Room<'_> {
    /// Gains that differ by less than this are the same.
    const SAME: f64 = 1e-9;

    fn places(&self) -> usize {
        self.free.len()
    }

    fn gain(&self, tree: usize, place: usize) -> Option<f64> {
        self.gains[tree].get(place).copied().flatten()
    }

    /// Lets a tree in by the chain of moves that gains most, if any gains.
    fn take_in(&mut self, tree: usize) {
        let places = self.places();
        let steps = self.steps();
        let mut best: Vec<f64> =
            (0..places).map(|to| self.gain(tree, to).unwrap_or(f64::NEG_INFINITY)).collect();
        let mut from: Vec<Option<usize>> = vec![None; places];
        for _ in 0..places {
            for (place, row) in steps.iter().enumerate() {
                for (to, step) in row.iter().take(places).enumerate() {
                    let Some((gain, _)) = step else { continue };
                    if best[place] + gain > best[to] + Self::SAME {
                        best[to] = best[place] + gain;
                        from[to] = Some(place);
                    }
                }
            }
        }
        let ends = (0..places).filter_map(|place| {
            let held = self.at.iter().filter(|it| **it == Some(place)).count();
            let out = if held < self.free[place] { Some((0.0, None)) } else { None };
            let leave = steps[place][places].map(|(gain, tree)| (gain, Some(tree)));
            let (gain, leaves) = out.or(leave)?;
            Some((best[place] + gain, place, leaves))
        });
        let Some((gain, end, leaves)) = ends.max_by(|a, b| a.0.total_cmp(&b.0)) else { return };
        if gain <= Self::SAME {
            return;
        }
        if let Some(leaves) = leaves {
            self.at[leaves] = None;
        }
        let mut place = end;
        while let Some(before) = from[place] {
            if let Some((_, moved)) = steps[before][place] {
                self.at[moved] = Some(place);
            }
            place = before;
        }
        self.at[tree] = Some(place);
    }

    /// The best tree to send from each place to each other, and out in the last column.
    fn steps(&self) -> Vec<Vec<Step>> {
        let places = self.places();
        let mut steps: Vec<Vec<Step>> = vec![vec![None; places + 1]; places];
        for (tree, at) in self.at.iter().enumerate() {
            let Some((here, kept)) = at.and_then(|place| Some((place, self.gain(tree, place)?))) else {
                continue;
            };
            for (to, step) in steps[here].iter_mut().enumerate() {
                let then = if to == places { Some(0.0) } else { self.gain(tree, to) };
                let Some(then) = then.filter(|_| to != here) else { continue };
                if step.is_none_or(|(gain, _)| then - kept > gain) {
                    *step = Some((then - kept, tree));
                }
            }
        }
        steps
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn total(gains: &[Vec<Option<f64>>], at: &[Option<usize>]) -> f64 {
        at.iter().enumerate().filter_map(|(tree, place)| gains[tree][(*place)?]).sum()
    }

    /// The greatest total of every possible way.
    fn greatest(gains: &[Vec<Option<f64>>], free: &mut [usize], tree: usize) -> f64 {
        let Some(row) = gains.get(tree) else { return 0.0 };
        let mut most = greatest(gains, free, tree + 1);
        for (place, gain) in row.iter().enumerate() {
            if let Some(gain) = gain.filter(|_| free[place] > 0) {
                free[place] -= 1;
                most = most.max(gain + greatest(gains, free, tree + 1));
                free[place] += 1;
            }
        }
        most
    }

    #[test]
    fn no_other_way_keeps_more() {
        let mut seed = 7_u64;
        let mut next = |most: u64| {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (seed >> 33) % most
        };
        for _ in 0..200 {
            let (trees, places) = (1 + next(6) as usize, 1 + next(3) as usize);
            let gains: Vec<Vec<Option<f64>>> = (0..trees)
                .map(|_| (0..places).map(|_| (next(4) > 0).then(|| next(50) as f64 / 10.0)).collect())
                .collect();
            let mut free: Vec<usize> = (0..places).map(|_| next(4) as usize).collect();
            let at = give_room(&gains, &free);
            for (place, room) in free.iter().enumerate() {
                assert!(at.iter().filter(|it| **it == Some(place)).count() <= *room, "{gains:?} {at:?}");
            }
            let (ours, most) = (total(&gains, &at), greatest(&gains, &mut free, 0));
            assert!((ours - most).abs() < 1e-9, "{ours} of {most}: {gains:?} {free:?} {at:?}");
        }
    }
}
