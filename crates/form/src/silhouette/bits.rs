//! Rows of pixels as bits: shifting, widening and walking along their runs.

/// Words that a row of so many pixels takes.
pub(super) fn words(width: usize) -> usize {
    width.div_ceil(64)
}

/// Sets the pixels from one column to another, the last left out.
pub(super) fn fill(row: &mut [u64], from: usize, to: usize) {
    if from >= to {
        return;
    }
    let (first, last) = (from / 64, (to - 1) / 64);
    let (low, high) = (u64::MAX << (from % 64), u64::MAX >> (63 - (to - 1) % 64));
    if first == last {
        row[first] |= low & high;
    } else {
        row[first] |= low;
        row[first + 1..last].fill(u64::MAX);
        row[last] |= high;
    }
}

/// Sets each pixel that has a set neighbour to the left or to the right; what falls off the end is lost.
pub(super) fn widen(row: &mut [u64]) {
    let mut before = 0;
    for at in 0..row.len() {
        let here = row[at];
        let after = row.get(at + 1).copied().unwrap_or(0);
        row[at] = here | (here << 1) | (before >> 63) | (here >> 1) | (after << 63);
        before = here;
    }
}

/// The runs of set pixels of a row: first column, and the one after the last.
pub(super) fn runs(row: &[u64], width: usize) -> impl Iterator<Item = (usize, usize)> {
    let mut at = 0;
    std::iter::from_fn(move || {
        let from = next(row, at, width, false)?;
        let to = next(row, from, width, true).unwrap_or(width);
        at = to;
        Some((from, to))
    })
}

/// The next set pixel from a column on, or the next unset one.
fn next(row: &[u64], from: usize, width: usize, unset: bool) -> Option<usize> {
    if from >= width {
        return None;
    }
    let flip = if unset { u64::MAX } else { 0 };
    let mut word = from / 64;
    let mut bits = (row[word] ^ flip) & (u64::MAX << (from % 64));
    loop {
        if bits != 0 {
            let at = word * 64 + bits.trailing_zeros() as usize;
            return (at < width).then_some(at);
        }
        word += 1;
        if word >= row.len() {
            return None;
        }
        bits = row[word] ^ flip;
    }
}

/// How many pixels are set.
pub(super) fn count(row: &[u64]) -> u64 {
    row.iter().map(|word| u64::from(word.count_ones())).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn runs_are_found_across_words() {
        let mut row = vec![0; 3];
        fill(&mut row, 3, 5);
        fill(&mut row, 60, 130);
        assert_eq!(runs(&row, 140).collect::<Vec<_>>(), [(3, 5), (60, 130)]);
        assert_eq!(count(&row), 72);
        widen(&mut row);
        assert_eq!(runs(&row, 140).collect::<Vec<_>>(), [(2, 6), (59, 131)]);
    }
}
