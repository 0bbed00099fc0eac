//! Dated springs laid out for the search: every distinct temperature is rated once, every season summed once.

use crate::{
    fit::{NEVER, TreeYear},
    model::Season,
};

/// One season with all trees dated in it.
pub(super) struct Spring {
    pub first_day: i32,
    /// Places of the daily temperatures among the distinct ones.
    at: Vec<u32>,
    /// Mean of the days on which its trees passed the stage.
    pub observed: f64,
    pub trees: f64,
    /// Days up to and with the observed one.
    place: usize,
}

/// Springs of a fit; trees that share a season are one spring.
pub(super) struct Springs {
    /// Distinct temperatures in rising order, not-a-number last.
    temperatures: Vec<f64>,
    pub years: Vec<Spring>,
    /// Sum of squares of the trees about their spring's mean: no model can explain it.
    pub unexplained: f64,
    pub trees: f64,
    width: usize,
}

/// Sums of a daily rate, one row per spring; the i-th of a row holds the first i days.
pub(super) struct Sums {
    values: Vec<f64>,
    width: usize,
}

/// A rate of warmth summed over all springs, with what each had received by its day.
pub(super) struct Warmth {
    pub sums: Sums,
    /// Sum at the noon of the observed day.
    pub seen: Vec<f64>,
    /// How much a spring says about the need: less where a day brings much warmth.
    pub weight: Vec<f64>,
    /// Mean rate about the observed days.
    pub middling: f64,
}

impl Sums {
    pub(super) fn rows(&self) -> std::slice::ChunksExact<'_, f64> {
        self.values.chunks_exact(self.width)
    }

    fn row(&self, year: usize) -> &[f64] {
        &self.values[year * self.width..(year + 1) * self.width]
    }

    /// Sum over the first `place` days of a spring, part of a day in proportion.
    pub(super) fn upto(&self, year: usize, place: f64) -> f64 {
        let row = self.row(year);
        let place = place.clamp(0.0, row.len() as f64 - 1.0);
        let low = (place as usize).min(row.len().saturating_sub(2));
        let high = (low + 1).min(row.len() - 1);
        row[low] + (row[high] - row[low]) * (place - low as f64)
    }
}

impl Spring {
    pub(super) fn days(&self) -> usize {
        self.at.len()
    }

    /// Days before the given moment; day 3.5 is the noon of day 3.
    pub(super) fn place(&self, moment: f64) -> f64 {
        moment - f64::from(self.first_day)
    }

    /// Error in days when the need is met with the first `reached` days.
    pub(super) fn gap(&self, reached: usize) -> f64 {
        if reached > self.at.len() {
            return NEVER;
        }
        f64::from(self.first_day + reached as i32 - 1) - self.observed
    }

    /// Fewest days, more than `from`, at whose end `met` holds; one more than there are if it never does.
    ///
    /// Walks from the observed day, for in the fits worth keeping it is near.
    #[inline]
    pub(super) fn reached(&self, from: usize, met: impl Fn(usize) -> bool) -> usize {
        let last = self.at.len();
        let mut reached = self.place.max(from + 1);
        if reached > last {
            return last + 1;
        }
        if met(reached) {
            while reached > from + 1 && met(reached - 1) {
                reached -= 1;
            }
            return reached;
        }
        while reached <= last && !met(reached) {
            reached += 1;
        }
        reached
    }
}

impl Springs {
    pub(super) fn gather(years: &[TreeYear<'_>]) -> Springs {
        let mut temperatures: Vec<f64> = years.iter().flat_map(|year| year.season.mean).copied().collect();
        temperatures.sort_unstable_by(f64::total_cmp);
        temperatures.dedup_by(|a, b| a.total_cmp(b).is_eq());
        let mut shared: Vec<(Season<'_>, Vec<i32>)> = Vec::new();
        for year in years {
            let same = shared.iter_mut().find(|(season, _)| {
                std::ptr::eq(season.mean, year.season.mean) && season.first_day == year.season.first_day
            });
            match same {
                Some((_, days)) => days.push(year.observed),
                None => shared.push((year.season, vec![year.observed])),
            }
        }
        let place = |t: &f64| temperatures.partition_point(|other| other.total_cmp(t).is_lt()) as u32;
        let mut unexplained = 0.0;
        let mut springs = Vec::with_capacity(shared.len());
        for (season, days) in &shared {
            let trees = days.len() as f64;
            let observed = days.iter().sum::<i32>() as f64 / trees;
            unexplained += days.iter().map(|&day| (f64::from(day) - observed).powi(2)).sum::<f64>();
            springs.push(Spring {
                first_day: season.first_day,
                at: season.mean.iter().map(place).collect(),
                observed,
                trees,
                place: (observed.round() as i32 - season.first_day + 1).max(0) as usize,
            });
        }
        let width = springs.iter().map(|spring| spring.at.len() + 1).max().unwrap_or(1);
        let trees = years.len() as f64;
        Springs { temperatures, years: springs, unexplained, trees, width }
    }

    /// Mean of the observed days.
    pub(super) fn mean_day(&self) -> f64 {
        self.years.iter().map(|year| year.trees * year.observed).sum::<f64>() / self.trees
    }

    /// Sums a daily rate over every spring; days that are not a number add nothing.
    pub(super) fn sum(&self, rate: impl Fn(f64) -> f64) -> Sums {
        let table: Vec<f64> =
            self.temperatures.iter().map(|&t| if t.is_nan() { 0.0 } else { rate(t) }).collect();
        let mut values = vec![0.0; self.width * self.years.len()];
        for (year, row) in self.years.iter().zip(values.chunks_exact_mut(self.width)) {
            let mut sum = 0.0;
            for (at, value) in year.at.iter().zip(&mut row[1..]) {
                sum += table[*at as usize];
                *value = sum;
            }
            row[year.at.len() + 1..].fill(sum);
        }
        Sums { values, width: self.width }
    }

    /// A rate of warmth, ready to be scored.
    pub(super) fn warmth(&self, rate: impl Fn(f64) -> f64) -> Warmth {
        const ABOUT: f64 = 5.0;

        let sums = self.sum(rate);
        let (mut seen, mut rates) =
            (Vec::with_capacity(self.years.len()), Vec::with_capacity(self.years.len()));
        for (at, year) in self.years.iter().enumerate() {
            let noon = year.place(year.observed + 0.5);
            seen.push(sums.upto(at, noon));
            rates.push((sums.upto(at, noon + ABOUT) - sums.upto(at, noon - ABOUT)) / (2.0 * ABOUT));
        }
        let middling = rates.iter().sum::<f64>() / rates.len() as f64;
        let weigh = |(rate, year): (&f64, &Spring)| year.trees / (rate * rate + middling * middling);
        let weight = rates.iter().zip(&self.years).map(weigh).collect();
        Warmth { sums, seen, weight, middling }
    }

    /// Every spring woken on the same day.
    pub(super) fn woken_on(&self, day: i32) -> Vec<u32> {
        self.years.iter().map(|year| (day - year.first_day).clamp(0, year.at.len() as i32) as u32).collect()
    }

    /// Every spring woken on the day its cold, counted from `start`, reaches `need`; at its end where it never does.
    pub(super) fn woken_by(&self, cold: &Sums, start: i32, need: f64) -> Vec<u32> {
        let mut woken = self.woken_on(start);
        for ((row, year), woken) in cold.rows().zip(&self.years).zip(&mut woken) {
            let row = &row[*woken as usize..=year.at.len()];
            let reached = row.partition_point(|sum| sum - row[0] < need);
            *woken += reached.max(1) as u32 - 1;
        }
        woken
    }

    /// Sum between two days, the mean over the springs.
    pub(super) fn mean_between(&self, sums: &Sums, start: i32, day: i32) -> f64 {
        let upto = |at: usize, year: &Spring, day: i32| sums.upto(at, year.place(f64::from(day)));
        let between = |(at, year): (usize, &Spring)| upto(at, year, day) - upto(at, year, start);
        self.years.iter().enumerate().map(between).sum::<f64>() / self.years.len() as f64
    }

    /// The need that suits a way of waking with a rate of warmth, and the sum of squared errors in whole days;
    /// none when that passes `limit`.
    pub(super) fn score(&self, woken: &[u32], warmth: &Warmth, limit: f64) -> Option<(f64, f64)> {
        const STEPS: usize = 3;

        let (mut weights, mut first) = (0.0, 0.0);
        for (((row, woken), seen), weight) in
            warmth.sums.rows().zip(woken).zip(&warmth.seen).zip(&warmth.weight)
        {
            weights += weight;
            first += weight * (seen - row[*woken as usize]);
        }
        let mut need = first / weights;
        let mut best: Option<(f64, f64)> = None;
        for _ in 0..STEPS {
            if need.is_nan() || need <= 0.0 {
                break;
            }
            let (error, late) = self.exact(woken, warmth, need, 1.5 * limit);
            if error < best.map_or(limit, |(_, error)| error) {
                best = Some((need, error));
            }
            if error.is_infinite() || late.abs() < 0.1 {
                break;
            }
            need -= late * warmth.middling;
        }
        best
    }

    /// As [`Springs::score`], with the need tried a little to either side.
    pub(super) fn tuned(&self, woken: &[u32], warmth: &Warmth, limit: f64) -> Option<(f64, f64)> {
        let mut best = self.score(woken, warmth, limit)?;
        let middle = best.0;
        for step in [-2.0, -1.5, -1.0, -0.5, 0.5, 1.0, 1.5, 2.0] {
            let need = middle + 0.5 * step * warmth.middling;
            let (error, _) = self.exact(woken, warmth, need, best.1);
            if need > 0.0 && error < best.1 {
                best = (need, error);
            }
        }
        Some(best)
    }

    /// Sum of squared errors in whole days and the mean error, days late; endless once it passes `limit`.
    fn exact(&self, woken: &[u32], warmth: &Warmth, need: f64, limit: f64) -> (f64, f64) {
        let (mut error, mut late) = (self.unexplained, 0.0);
        for ((year, row), woken) in self.years.iter().zip(warmth.sums.rows()).zip(woken) {
            let from = *woken as usize;
            let target = row[from] + need;
            let gap = year.gap(year.reached(from, |days| row[days] >= target));
            error += year.trees * gap * gap;
            late += year.trees * gap;
            if error > limit {
                return (f64::INFINITY, 0.0);
            }
        }
        (error, late / self.trees)
    }
}
