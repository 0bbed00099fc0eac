//! Cold received against cold needed, each model in its own unit, and where they disagree.

use dormancy::{
    chill::{ChillModel, sum},
    table::Figures,
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

/// Needs known in another unit than chilling hours, per taxon.
const OTHER: [(&str, ChillModel, Sourced<f64>); 1] = [(
    "prunus-mume",
    ChillModel::Dynamic,
    Sourced {
        value: 53.0,
        standing: Standing::Published(
            "Zhuang et al. 2016: 24 to 82 portions over 69 cultivars, flower buds; the middle is ours",
        ),
    },
)];

/// Cold received by every model; work it out once per way of spending the winter.
pub fn received(hours: &[f64]) -> [f64; 8] {
    ChillModel::ALL.map(|model| sum(model, hours))
}

/// Every model side by side; nothing is converted from one unit into another, because no factor exists.
pub fn cold(taxon: &Taxon, figures: &Figures, received: [f64; 8]) -> Vec<ColdLine> {
    ChillModel::ALL
        .into_iter()
        .zip(received)
        .map(|(model, received)| ColdLine { model, received, need: need(taxon, figures, model) })
        .collect()
}

fn need(taxon: &Taxon, figures: &Figures, model: ChillModel) -> Option<Sourced<f64>> {
    if let Some((.., need)) = OTHER.iter().find(|(key, of, _)| *key == taxon.key && *of == model) {
        return Some(*need);
    }
    match model {
        ChillModel::HoursC => Some(figures.cold),
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
    fn six_degrees_all_winter_is_cold_for_hours_and_none_for_the_trade_rule() {
        let maple = Taxon::of("acer-palmatum").unwrap();
        let lines = cold(maple, Figures::of(maple.key).unwrap(), received(&[6.0; 24 * 60]));
        assert!(disagree(&lines));
        let of = |model| lines.iter().find(|line| line.model == model).unwrap();
        assert_eq!(of(ChillModel::HoursC).met(), Some(true));
        assert_eq!(of(ChillModel::RuleDays).met(), Some(false));
        assert_eq!(of(ChillModel::Utah).met(), None);
    }
}
