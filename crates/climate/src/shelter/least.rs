//! Least squares of a plane, and the lowest point of a valley.

/// Running sums of a plane y = c0 + c1·u + c2·v.
#[derive(Default)]
pub(super) struct Sums {
    count: f64,
    first: [f64; 3],
    second: [f64; 6],
}

impl Sums {
    pub(super) fn add(&mut self, u: f64, v: f64, y: f64) {
        self.count += 1.0;
        for (sum, term) in self.first.iter_mut().zip([u, v, y]) {
            *sum += term;
        }
        for (sum, term) in self.second.iter_mut().zip([u * u, u * v, v * v, u * y, v * y, y * y]) {
            *sum += term;
        }
    }

    /// The three coefficients, and the sum of squares they leave; a flat or dependent v gets none.
    pub(super) fn solve(&self) -> ([f64; 3], f64) {
        let n = self.count.max(1.0);
        let [u, v, y] = self.first.map(|sum| sum / n);
        let [uu, uv, vv, uy, vy, yy] = self.second;
        let (uu, uv, vv) = (uu - n * u * u, uv - n * u * v, vv - n * v * v);
        let (uy, vy, yy) = (uy - n * u * y, vy - n * v * y, yy - n * y * y);
        let det = uu * vv - uv * uv;
        let (c1, c2) = if det > 1e-9 * uu * vv && vv > 1e-9 {
            ((uy * vv - vy * uv) / det, (vy * uu - uy * uv) / det)
        } else if uu > 0.0 {
            (uy / uu, 0.0)
        } else {
            (0.0, 0.0)
        };
        ([y - c1 * u - c2 * v, c1, c2], yy - c1 * uy - c2 * vy)
    }
}

/// Where `cost` is least between `low` and `high`, to 1e-6.
pub(super) fn golden_section(mut low: f64, mut high: f64, cost: impl Fn(f64) -> f64) -> f64 {
    let golden = (5.0_f64.sqrt() - 1.0) / 2.0;
    let (mut left, mut right) = (high - golden * (high - low), low + golden * (high - low));
    let (mut at_left, mut at_right) = (cost(left), cost(right));
    while high - low > 1e-6 {
        if at_left < at_right {
            (high, right, at_right) = (right, left, at_left);
            left = high - golden * (high - low);
            at_left = cost(left);
        } else {
            (low, left, at_left) = (left, right, at_right);
            right = low + golden * (high - low);
            at_right = cost(right);
        }
    }
    f64::midpoint(low, high)
}
