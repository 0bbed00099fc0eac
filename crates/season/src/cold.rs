//! Cold received against cold needed, each model in its own unit, and where they disagree.

use dormancy::{
    chill::{ChillModel, sum},
    needs::Needs,
};
use measure::{
    sourced::{Sourced, Standing},
    taxon::{Kind, Taxon},
};

/// Cold in one model's unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ColdLine {
    /// The model.
    pub model: ChillModel,
    /// Received since the winter's first known day.
    pub received: f64,
    /// Needed, in this very unit; none where no need is known in it.
    pub need: Option<Sourced<f64>>,
}

impl ColdLine {
    /// Whether the need is met; none where there is no need in this unit.
    pub fn met(&self) -> Option<bool> {
        self.need.map(|need| self.received >= need.value)
    }
}

/// Days of the trade's rule: about 40 between 32 and 40 °F.
const RULE: Sourced<f64> = Sourced { value: 40.0, standing: Standing::Practice };

/// Cold received by every model; work it out once per way of spending the winter.
pub fn received(hours: &[f64]) -> [f64; 8] {
    ChillModel::ALL.map(|model| sum(model, hours))
}

/// Every model side by side; nothing is converted from one unit into another, because no factor exists.
pub fn cold(taxon: &Taxon, needs: &Needs, received: [f64; 8]) -> Vec<ColdLine> {
    ChillModel::ALL
        .into_iter()
        .zip(received)
        .map(|(model, received)| ColdLine { model, received, need: need(taxon, needs, model) })
        .collect()
}

/// The need is known in portions, which are what the forecast counts; the trade's rule stands beside it.
fn need(taxon: &Taxon, needs: &Needs, model: ChillModel) -> Option<Sourced<f64>> {
    match model {
        ChillModel::Dynamic => Some(Sourced { value: needs.cold(), standing: needs.standing() }),
        ChillModel::RuleDays if taxon.kind.is_bare_in_winter() && taxon.kind != Kind::Elm => Some(RULE),
        _ => None,
    }
}

/// Whether the models that know a need disagree about its being met.
pub fn disagree(lines: &[ColdLine]) -> bool {
    let mut said = lines.iter().filter_map(ColdLine::met);
    said.next().is_some_and(|first| said.any(|other| other != first))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn six_degrees_all_winter_is_cold_in_portions_and_none_for_the_trade_rule() {
        let maple = Taxon::of("acer-palmatum").unwrap();
        let lines = cold(maple, Needs::of(maple.key).unwrap(), received(&[6.0; 24 * 120]));
        assert!(disagree(&lines));
        let of = |model| lines.iter().find(|line| line.model == model).unwrap();
        assert_eq!(of(ChillModel::Dynamic).met(), Some(true));
        assert_eq!(of(ChillModel::RuleDays).met(), Some(false));
        assert_eq!(of(ChillModel::Utah).met(), None);
    }
}
