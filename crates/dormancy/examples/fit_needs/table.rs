//! The lines of `src/needs.csv`: the taxa of the product first, in their order, then every other species that was dated.

use dormancy::{table::FIGURES, wake::Release};
use measure::taxon::{TAXA, Taxon};

use super::{
    fit::{Fit, Level, MUME, family, release},
    stages::Stages,
};

/// Least spread by standing, logarithm: what a fitted level leaves open of another tree, place and year.
const OUTDOORS: f64 = 0.22;
const CHAMBERS: f64 = 0.35;
const GENUS: f64 = 0.5;
const ORDER: f64 = 0.5;

/// Genera never measured came later than their order by this much when they were, logarithm (`truth.md` section 4).
const UNMEASURED_LATE: f64 = 0.18;

/// Places in the order of waking up to which a kind that nobody measured may wake in the cold of midwinter; our estimate.
const EARLIEST: u8 = 7;

/// Planned chilling hours from which a kind counts as one of cold winters; fewer, and lack of cold slows it in proportion less.
const COLD_KIND: f64 = 800.0;

const HEAD: &str = "name,botanical,need,log_sd,slope,light,release,release_portions,swelling,full,share_sd,standing,chamber_rows,outdoor_rows";

/// The whole file.
pub fn table(fit: &Fit, stages: &Stages) -> String {
    let mut lines = vec![HEAD.to_owned()];
    let mut told = Vec::new();
    for (taxon, figures) in TAXA.iter().zip(FIGURES).filter(|(taxon, _)| taxon.kind.rests()) {
        let (genus, species) = names(taxon);
        let seen = fit.species.get(&(genus.clone(), species.clone()));
        told.push((genus.clone(), species.clone()));
        let of_genus = fit.genera.get(&genus);
        let (mut level, standing) = match (seen, of_genus) {
            (Some(level), _) if level.rows[1] > 0 => (floor(*level, OUTDOORS), "ground"),
            (Some(level), _) => (floor(*level, CHAMBERS), "chambers"),
            (None, Some(level)) => (floor(*level, GENUS), "genus"),
            (None, None) => (by_order(fit, &genus, figures.order), "order"),
        };
        if release(&genus, &species) == Release::Day {
            level.slope *= (figures.cold.value / COLD_KIND).min(1.0);
        }
        let by_cold = standing == "order" || genus == "Cornus";
        let release = match release(&genus, &species) {
            Release::Day if figures.order <= EARLIEST && by_cold && !genus.starts_with("Larix") => {
                Release::Either(MUME)
            }
            other => other,
        };
        lines.push(line(taxon.key, taxon.name, &level, release, standing, &genus, stages));
    }
    let mut others: Vec<_> = fit.species.iter().filter(|(names, _)| !told.contains(names)).collect();
    others.sort_by(|a, b| a.0.cmp(b.0));
    for ((genus, species), level) in others {
        let name = format!("{genus} {species}");
        let (least, standing) = if level.rows[1] > 0 { (OUTDOORS, "ground") } else { (CHAMBERS, "chambers") };
        lines.push(line(
            &name,
            &name,
            &floor(*level, least),
            release(genus, species),
            standing,
            genus,
            stages,
        ));
    }
    lines.join("\n") + "\n"
}

/// Genus and species as the record names them.
fn names(taxon: &Taxon) -> (String, String) {
    match taxon.key {
        "forsythia" => ("Forsythia".into(), "koreana".into()),
        "prunus-serrulata" | "prunus-persica" | "prunus-mume" | "pyrus-calleryana" => {
            (taxon.genus().into(), taxon.key.split('-').nth(1).unwrap_or("").into())
        }
        _ => (
            taxon.genus().into(),
            taxon.name.split_whitespace().nth(1).unwrap_or("").trim_start_matches('×').into(),
        ),
    }
}

fn floor(level: Level, least: f64) -> Level {
    Level { sd: level.sd.max(least), ..level }
}

/// A taxon whose genus was never dated: by its place in the order of waking, and its family where that was.
fn by_order(fit: &Fit, genus: &str, order: u8) -> Level {
    let log_need = 224.0_f64.ln() + 0.0068 * (f64::from(order) - 35.0) + UNMEASURED_LATE;
    let of_family = fit.families.get(&family(genus));
    let log_need = of_family.map_or(log_need, |level| 0.7 * log_need + 0.3 * level.log_need);
    Level { log_need, sd: ORDER, rows: [0, 0], ..fit.any }
}

fn line(
    key: &str,
    botanical: &str,
    level: &Level,
    release: Release,
    standing: &str,
    genus: &str,
    stages: &Stages,
) -> String {
    let [swelling, full] = *stages.genera.get(genus).unwrap_or(&stages.any);
    let (word, portions) = match release {
        Release::Day => ("day", String::new()),
        Release::Cold(portions) => ("cold", portions.to_string()),
        Release::Either(portions) => ("either", portions.to_string()),
    };
    format!(
        "{key},{botanical},{:.0},{:.2},{:.3},{:.2},{word},{portions},{:.2},{:.2},{:.2},{standing},{},{}",
        level.log_need.exp(),
        level.sd,
        level.slope,
        level.light,
        swelling.log.exp(),
        full.log.exp(),
        full.sd,
        level.rows[0],
        level.rows[1],
    )
}
