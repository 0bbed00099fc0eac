//! Running sums and the online change of a series.
//!
//! `cusum_arl.csv`: the reference set's Gauss-Legendre solution and Siegmund's formula; its last column holds table values it
//! remembers from the handbooks. `llr_cusum.json`: script. `bocpd_*.json`: script, equal to
//! `bayesian_changepoint_detection` 0.2.dev1 within 2e-15. `nile.csv`: the Nile's flow, 1871 to 1970 (public domain).

mod vector;

use vector::{SIXTH, Tally, cell, counted, json, number, numbers, rows, table};
use water::change::{
    cusum::{Cusum, EvidenceSum},
    online::{Online, Stretch},
    run_length::{Chart, exact, siegmund},
};

#[test]
fn average_run_lengths() {
    let (mut exactly, mut formula, mut handbook) = (0.0_f64, Tally::default(), 0.0_f64);
    let Some(file) = table("water/cusum_arl.csv") else { return };
    for row in &file {
        let get = |name: &str| row[name].parse::<f64>().unwrap();
        let chart = Chart { allowance: get("k"), limit: get("h"), shift: get("mean_shift_sigma") };
        let ours = exact(&chart).unwrap();
        let gap = (ours / get("arl_exact_one_sided") - 1.0).abs();
        assert!(gap <= 1e-3, "{row:?}: ours {ours}");
        exactly = exactly.max(gap);
        formula.agrees(siegmund(&chart).unwrap(), get("arl_siegmund"), 5.001e-5);
        let printed = row.iter().find(|(head, _)| head.starts_with("published"));
        if let Some(Ok(printed)) = printed.map(|(_, cell)| cell.parse::<f64>()) {
            handbook = handbook.max((ours / printed - 1.0).abs());
            assert!((ours / printed - 1.0).abs() < 0.005, "{row:?}: ours {ours}");
        }
    }
    println!(
        "run lengths: largest gap {exactly:.1e}, against remembered tables {handbook:.1e}, of themselves"
    );
    counted("water/cusum_arl.csv: charts", file.len(), 70);
    formula.tell("water/cusum_arl.csv: Siegmund", 70);
}

#[test]
fn a_sum_meets_its_run_length() {
    // 4,000 runs of our own dice: the mean within three standard errors of the exact figure.
    use rand_distr::{Distribution, StandardNormal};
    use rand_pcg::{Pcg64Mcg, rand_core::SeedableRng};
    let mut dice = Pcg64Mcg::seed_from_u64(11);
    let chart = Chart { allowance: 0.5, limit: 4.0, shift: 0.5 };
    let mut run = || {
        let mut sum = Cusum::new(chart.allowance, chart.limit).unwrap();
        let mut values = 1.0;
        while !sum.add(chart.shift + Distribution::<f64>::sample(&StandardNormal, &mut dice)) {
            values += 1.0;
        }
        values
    };
    let runs: Vec<f64> = (0..4000).map(|_| run()).collect();
    let mean = runs.iter().sum::<f64>() / 4000.0;
    let error = (runs.iter().map(|run| (run - mean).powi(2)).sum::<f64>() / 3999.0 / 4000.0).sqrt();
    let off = (mean - exact(&chart).unwrap()) / error;
    println!("mean run {mean:.2}, {off:+.1} standard errors off");
    assert!(off.abs() < 3.0);
}

#[test]
fn evidence_of_unequal_spread() {
    let Some(file) = json("water/llr_cusum.json") else { return };
    let mut tally = Tally::default();
    let limit = number(&file, "h");
    let mut sum = EvidenceSum::new(number(&file, "baseline"), number(&file, "delta"), limit).unwrap();
    for (at, step) in rows(&file["steps"]).iter().enumerate() {
        let (value, spread) = (file["y"][at].as_f64().unwrap(), file["sd"][at].as_f64().unwrap());
        tally.agrees(sum.evidence(value, spread), number(step, "llr"), SIXTH);
        assert_eq!(sum.add(value, spread), step["alarm"].as_bool().unwrap());
        tally.agrees(sum.sum(), number(step, "S"), SIXTH);
    }
    tally.tell("water/llr_cusum.json: evidence", 18);
}

#[test]
fn where_the_stretch_began() {
    for (name, own) in [("bocpd_small", 40), ("bocpd_nile", 55)] {
        let Some(file) = json(&format!("water/{name}.json")) else { continue };
        let mut tally = Tally::default();
        let start = Stretch {
            mean: number(&file, "mu0"),
            worth: number(&file, "kappa0"),
            shape: number(&file, "alpha0"),
            rate: number(&file, "beta0"),
        };
        // A file without a series of its own is about the Nile's.
        let values: Vec<f64> = if file["series"].is_array() {
            numbers(&file["series"])
        } else {
            let Some(nile) = table("water/nile.csv") else { continue };
            nile.iter().map(|row| cell(row, "volume_1e8_m3")).collect()
        };
        let mut series = Online::new(start, number(&file, "lambda_")).unwrap();
        let mut checks = rows(&file["checks"]).iter().peekable();
        for (at, &value) in values.iter().enumerate() {
            series.add(value);
            let Some(check) = checks.next_if(|check| number(check, "t_index") == at as f64) else { continue };
            assert_eq!(series.most_likely() as f64, number(check, "map_run_length"), "{name} {at}");
            let chances: Vec<f64> = series.chances().map(|chance| chance.0).collect();
            for top in rows(&check["top3"]) {
                let length = top[0].as_u64().unwrap() as usize;
                tally.agrees(chances[length], top[1].as_f64().unwrap(), 5.001e-9);
            }
            tally.agrees(series.chance_up_to(10).0, number(check, "p_r_le_10"), 5.001e-9);
        }
        assert!(checks.next().is_none(), "{name} has checks beyond its series");
        tally.tell(&format!("water/{name}.json: chances of a stretch"), own);
    }
}
