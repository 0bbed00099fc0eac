//! Feed, stock, liquid, spray and conductivity.
//!
//! `fertiliser.csv`, `dilution.json`, `ec.json`: the reference set's own script of the same rules, so they check our
//! arithmetic; beside them the rounded figures that extension pages print. Tolerance is half the last digit stored, on
//! a printed figure one part in 85, because the pages round to half and quarter ounces.

mod vector;

use measure::quantity::{
    DecisiemensPerMetre, KilogramPerLitre, Litre, MillilitresPerLitre, OneTo, PartsPerMillion, Percent,
};
use vector::{SIXTH, Tally, fields, json, not_ours, number, rows, table, words};
use water::feed::{
    Label, Measured, MeterScale, brings, grams_per_litre, millilitres_per_litre, mixed, net_of_water,
    phosphorus, potassium, stock, weighed, with_feed,
};

/// Half of the fourth decimal.
const FOURTH: f64 = 5.001e-5;

#[test]
fn feed_and_stock_of_five_bags() {
    let mut tally = Tally::default();
    let Some(file) = table("water/fertiliser.csv") else { return };
    for row in file {
        let number = |name: &str| row[name].parse::<f64>().unwrap();
        let feed =
            grams_per_litre(PartsPerMillion(number("target_ppm_n")), Percent(number("n_pct"))).unwrap();
        let thinned = stock(feed, OneTo(number("injector_1_to"))).unwrap();
        tally.agrees(feed.0, number("g_per_l_final"), SIXTH);
        tally.agrees(weighed(feed, Litre(number("batch_l"))).unwrap().0, number("g_for_batch"), FOURTH);
        tally.agrees(thinned.0, number("stock_g_per_l"), FOURTH);
        tally.agrees(thinned.ounces_per_gallon(), number("stock_oz_per_us_gal"), FOURTH);
        tally.agrees(brings(feed, phosphorus(Percent(number("p2o5_pct")))).0, number("ppm_p"), FOURTH);
        tally.agrees(brings(feed, potassium(Percent(number("k2o_pct")))).0, number("ppm_k"), FOURTH);
    }
    tally.tell("water/fertiliser.csv", 30);
}

/// 13.5 oz of 20 % N, 18 oz of 15 % N in 100 US gallons for 200 ppm; 20.25 oz in a gallon of stock, 20 % N, 150 ppm, 1:200.
#[test]
fn printed_pages_round_the_same_sum() {
    let mut tally = Tally::default();
    for (ppm, nitrogen, ratio, printed) in
        [(200.0, 20.0, 100.0, 13.5), (200.0, 15.0, 100.0, 18.0), (150.0, 20.0, 200.0, 20.25)]
    {
        let feed = grams_per_litre(PartsPerMillion(ppm), Percent(nitrogen)).unwrap();
        let ounces = stock(feed, OneTo(ratio)).unwrap().ounces_per_gallon();
        tally.agrees(ounces / printed, 1.0, 1.0 / 85.0);
    }
    tally.tell("printed pages, share of itself", 3);
}

/// A spray from the file's words: “label rate 2.5 ml per litre, 1.5 l sprayer”, “label 1:200 …, 2 l”, “1+200 …, 2 l water”.
fn asked(words: &str) -> (Label, f64, Measured) {
    let parts: Vec<&str> = words.split([' ', ',']).filter(|part| !part.is_empty()).collect();
    let before = |unit: &str| {
        let at = parts.iter().position(|part| *part == unit).unwrap_or_else(|| panic!("no {unit}: {words}"));
        parts[at - 1].parse::<f64>().unwrap()
    };
    let one_to =
        |sign: &str| parts.iter().find_map(|part| part.strip_prefix(sign)?.parse::<f64>().ok()).map(OneTo);
    let label = match (one_to("1:"), one_to("1+")) {
        (Some(parts), _) => Label::OneIn(parts),
        (None, Some(parts)) => Label::OneToWater(parts),
        (None, None) => Label::PerLitre(MillilitresPerLitre(before("ml"))),
    };
    let measured = if words.contains(" l water") { Measured::Water } else { Measured::Finished };
    (label, before("l"), measured)
}

#[test]
fn liquids_and_sprays() {
    let mut tally = Tally::default();
    let Some(file) = json("water/dilution.json") else { return };
    for case in rows(&file["cases"]) {
        let (wanted, held) = (PartsPerMillion(number(case, "ppm")), Percent(number(case, "pct")));
        let density = KilogramPerLitre(number(case, "density"));
        tally.agrees(
            millilitres_per_litre(wanted, held, density).unwrap().0,
            number(case, "ml_per_l"),
            SIXTH,
        );
    }
    tally.tell("water/dilution.json: liquids", 2);
    let mut tally = Tally::default();
    for case in rows(&file["spray"]) {
        let (label, volume, measured) = asked(words(case, "what"));
        let spray = mixed(label, Litre(volume), measured).unwrap();
        tally.agrees(spray.product.0 * 1000.0, number(case, "ml"), SIXTH);
    }
    tally.tell("water/dilution.json: sprays", 4);
}

#[test]
fn conductivity_and_its_scales() {
    let mut tally = Tally::default();
    let Some(file) = json("water/ec.json") else { return };
    for case in rows(&file["cases"]) {
        let water = DecisiemensPerMetre(number(case, "ec_water"));
        let bag = DecisiemensPerMetre(number(case, "ec_at_100ppm"));
        let ppm = PartsPerMillion(number(case, "ppm"));
        let feed = with_feed(water, bag, ppm).unwrap();
        tally.agrees(feed.0, number(case, "ec"), SIXTH);
        tally.agrees(net_of_water(feed, water).unwrap().0, number(case, "ec") - water.0, SIXTH);
    }
    for (name, factor) in fields(&file["conversions"]) {
        let scale = match name {
            "ppm_scale_500" => MeterScale::Of500,
            "ppm_scale_700" => MeterScale::Of700,
            "tds_640" => MeterScale::Of640,
            "dS_m_to_uS_cm" => {
                let fine = DecisiemensPerMetre(1.0).microsiemens_per_centimetre();
                tally.agrees(fine, factor.as_f64().unwrap(), 1e-9);
                continue;
            }
            other => {
                not_ours(other);
                continue;
            }
        };
        let reads = scale.reads(DecisiemensPerMetre(1.0));
        tally.agrees(reads.0, factor.as_f64().unwrap(), 1e-12);
        tally.agrees(scale.conducts(reads).0, 1.0, 1e-12);
    }
    tally.tell("water/ec.json", 11);
}
