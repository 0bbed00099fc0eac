//! Vigour shared out, shade, room, directions, cuts and tips over the years.
//!
//! `growth.json`, by the reference set's own script of the same model (it checks arithmetic, not the model); ten digits stored,
//! nine compared; light in single precision.

mod vector;

use form::growth::{
    cut::{Breaking, Cut, OldWood, Ramifying, back_buds, learned, tips_by_year},
    direction::{Looking, Pull, View, share_room, shoot_direction},
    flux::{Flow, NONE, Rows, Sharing, shoot},
    shadow::{Cells, Shade},
};
use measure::quantity::Millimetre;
use proptest::prelude::*;
use serde_json::Value;
use vector::{Tally, fields, json, nine, number, rows, words};

/// The rows of a tree written as nodes within nodes, with the names of nodes and buds.
#[derive(Debug, Default)]
struct Laid {
    bearer: Vec<u32>,
    follows: Vec<bool>,
    main_bud: Vec<f64>,
    side_buds: Vec<f64>,
    nodes: Vec<String>,
    /// Name, metamer, in the main place.
    buds: Vec<(String, usize, bool)>,
}

impl Laid {
    fn add(&mut self, node: &Value, bearer: u32, follows: bool) {
        let at = self.bearer.len();
        self.bearer.push(bearer);
        self.follows.push(follows);
        self.main_bud.push(0.0);
        self.side_buds.push(0.0);
        self.nodes.push(node["id"].as_str().unwrap().to_string());
        for (place, main) in [("main", true), ("lat", false)] {
            let here = &node[place];
            if let Some(bud) = here["bud"].as_str() {
                self.buds.push((bud.to_string(), at, main));
                let light = if main { &mut self.main_bud[at] } else { &mut self.side_buds[at] };
                *light = number(here, "Q");
            } else if here.is_object() {
                self.add(here, at as u32, main);
            }
        }
    }

    fn rows(&self) -> Rows<'_> {
        Rows {
            bearer: &self.bearer,
            follows: &self.follows,
            main_bud: &self.main_bud,
            side_buds: &self.side_buds,
        }
    }

    /// Vigour of a bud.
    fn of(&self, flow: &Flow, at: usize, main: bool) -> f64 {
        if main { flow.to_main[at] } else { flow.to_side[at] * self.side_buds[at] / flow.side[at] }
    }
}

#[test]
fn vigour_is_shared_out_as_borchert_and_honda_say() {
    let mut tally = Tally::default();
    let Some(file) = json("form/growth.json") else { return };
    for case in rows(&file["borchert_honda"]) {
        let mut laid = Laid::default();
        laid.add(&case["tree"], NONE, false);
        let sharing = Sharing {
            apical: number(case, "lambda_"),
            strength: number(case, "alpha"),
            reserve: number(case, "reserve_rho"),
            before: case["Q_previous"].as_f64(),
        };
        let mut flow = Flow::default();
        flow.run(laid.rows(), sharing);
        tally.agrees(flow.light(0), number(case, "Q_base"), 1e-9);
        tally.agrees(flow.vigour[0], number(case, "v_base"), 1e-9);
        for (at, name) in laid.nodes.iter().enumerate() {
            let node = &case["nodes"][name];
            tally.agrees(flow.light(at), number(node, "Q"), 1e-9);
            tally.agrees(flow.vigour[at], number(node, "v"), 1e-9);
        }
        let mut sum = 0.0;
        for (name, at, main) in &laid.buds {
            let bud = &case["buds"][name];
            let vigour = laid.of(&flow, *at, *main);
            let (metamers, length) = shoot(vigour);
            sum += vigour;
            tally.agrees(vigour, number(bud, "v"), 1e-9);
            tally.agrees(f64::from(metamers), number(bud, "metamers"), 0.0);
            tally.agrees(length, number(bud, "metamer_length"), 1e-9);
            tally.agrees(f64::from(metamers) * length, number(bud, "shoot_length"), 1e-9);
        }
        tally.agrees(sum, number(case, "sum_v"), 1e-9);
    }
    tally.tell("form/growth.json: vigour", 228);
}

fn cell(value: &Value) -> [i32; 3] {
    // The file counts x, up, z; here z goes up.
    let at = |k: usize| value[k].as_i64().unwrap() as i32;
    [at(0), at(2), at(1)]
}

#[test]
fn shade_falls_as_a_pyramid() {
    let Some(file) = json("form/growth.json") else { return };
    let file = &file["shadow"];
    let [own, fades, deep, free] = ["a", "b", "q_max", "C"].map(|name| number(file, name));
    let shadow = Shade { own, fades, deep: deep as usize, free };
    let mut cells = Cells::default();
    cells.clear([-8, -8, -8], [8, 8, 8], &shadow);
    // One by one or put first and thrown together.
    let (first, others) = rows(&file["buds"]).split_first().unwrap();
    cells.throw(cell(first), 1.0, &shadow);
    others.iter().for_each(|bud| cells.put(cell(bud), 1.0));
    cells.throw_all(&shadow);
    let mut tally = Tally::default();
    for (key, row) in fields(&file["expected"]) {
        let at = cell(&serde_json::from_str(key).unwrap());
        tally.agrees(cells.shade_at(at), number(row, "shadow"), 1e-7);
        tally.agrees(cells.light(at, 1.0, &shadow), number(row, "Q"), 1e-7);
    }
    for (key, stored) in fields(&file["probe_below"]) {
        let at = cell(&serde_json::from_str(key).unwrap());
        tally.agrees(cells.shade_at(at), stored.as_f64().unwrap(), 1e-7);
    }
    tally.tell("form/growth.json: shade", 10);
}

fn place(value: &Value) -> [f64; 3] {
    [0, 1, 2].map(|k| value[k].as_f64().unwrap())
}

#[test]
fn room_is_shared_and_shoots_bend() {
    let Some(file) = json("form/growth.json") else { return };
    let room = &file["space_colonisation"];
    let buds: Vec<Looking> = rows(&room["buds"])
        .iter()
        .map(|bud| Looking { place: place(&bud["pos"]), way: place(&bud["dir"]) })
        .collect();
    let mut spots: Vec<[f64; 3]> = rows(&room["markers"]).iter().map(place).collect();
    let view = View {
        far: number(room, "perception_radius"),
        half_angle: number(room, "half_angle_deg"),
        takes: number(room, "occupancy_radius"),
    };
    let found = share_room(&buds, &mut spots, view);
    let mut tally = Tally::default();
    tally.agrees(spots.len() as f64, number(&room["expected"], "markers_left"), 0.0);
    for (bud, found) in rows(&room["buds"]).iter().zip(found) {
        let row = &room["expected"]["buds"][words(bud, "name")];
        tally.agrees(found.spots as f64, number(row, "markers"), 0.0);
        for (ours, stored) in found.way.unwrap().iter().zip(place(&row["direction"])) {
            tally.agrees(*ours, stored, 1e-9);
        }
    }
    for row in rows(&file["shoot_direction"]) {
        let pull = Pull { free: number(row, "xi"), all: number(row, "eta") };
        let ours =
            shoot_direction(place(&row["default"]), place(&row["optimal"]), place(&row["tropism"]), pull);
        for (ours, stored) in ours.iter().zip(place(&row["expected"])) {
            tally.agrees(*ours, stored, 1e-9);
        }
    }
    tally.tell("form/growth.json: room and direction", 12);
}

#[test]
fn cuts_and_years() {
    let Some(file) = json("form/growth.json") else { return };
    let mut tally = Tally::default();
    for row in rows(&file["clip_and_grow"]) {
        let breaking = Breaking {
            nearest: number(row, "p1"),
            falls: number(row, "q"),
            buds: number(row, "buds_per_node") as u32,
        };
        let cut = Cut {
            nodes: number(row, "nodes_left") as u32,
            length: Millimetre(number(row, "E_total_mm")),
            others: number(row, "other_tip_weight"),
            internode: Millimetre(number(row, "l_bar_mm")),
        };
        let reply = breaking.reply(&cut).unwrap();
        tally.agrees(reply.shoots, number(row, "expected_shoots"), 1e-9);
        tally.agrees(reply.nothing, number(row, "p_no_break"), 1e-10);
        assert_eq!(reply.nodes.len(), rows(&row["nodes"]).len());
        for (ours, node) in reply.nodes.iter().zip(rows(&row["nodes"])) {
            tally.agrees(ours.breaks, number(node, "p_break"), 1e-9);
            tally.agrees(ours.length.0, number(node, "extension_mm"), nine(number(node, "extension_mm")));
            tally.agrees(f64::from(ours.internodes), number(node, "internodes"), 0.0);
            tally.agrees(ours.length.0 / f64::from(ours.internodes), number(node, "internode_mm"), 1e-7);
        }
    }
    for row in rows(&file["beta_update"]) {
        let ours = learned(number(row, "broke") as u32, number(row, "of") as u32);
        tally.agrees(ours, number(row, "posterior_mean"), 1e-9);
    }
    for row in rows(&file["back_budding"]) {
        let wood: Vec<OldWood> = rows(&row["rows"])
            .iter()
            .map(|age| OldWood { age: number(age, "age_yr") as u32, nodes: number(age, "nodes") as u32 })
            .collect();
        let ours = back_buds(&wood, number(row, "p0"), number(row, "survival_per_year"));
        for (ours, age) in ours.iter().zip(rows(&row["rows"])) {
            tally.agrees(*ours, number(age, "expected_back_buds"), 1e-9);
        }
        tally.agrees(ours.iter().sum(), number(row, "total"), 1e-9);
    }
    for row in rows(&file["ramification"]) {
        let stored = rows(&row["tips_by_year"]);
        let by = Ramifying {
            shoots: number(row, "shoots_per_cut"),
            flushes: number(row, "flushes_per_season") as u32,
            lost: number(row, "loss_fraction"),
        };
        for (ours, stored) in tips_by_year(number(row, "start"), by, stored.len() - 1).iter().zip(stored) {
            tally.agrees(*ours, stored.as_f64().unwrap(), 1e-7);
        }
    }
    tally.tell("form/growth.json: cuts and years", 64);
}

/// A tree by chance: metamers hung on earlier ones, with buds here and there.
fn any_rows() -> impl Strategy<Value = Laid> {
    let one = (any::<prop::sample::Index>(), any::<bool>(), 0.0..1.5_f64, 0.0..1.5_f64);
    proptest::collection::vec(one, 1..60).prop_map(|pieces| {
        let mut laid = Laid::default();
        let mut filled: Vec<bool> = Vec::new();
        for (at, (bearer, follow, main, side)) in pieces.into_iter().enumerate() {
            let bearer = if at == 0 { NONE } else { bearer.index(at) as u32 };
            let follows = at > 0 && follow && !filled[bearer as usize];
            if follows {
                filled[bearer as usize] = true;
                laid.main_bud[bearer as usize] = 0.0;
            }
            laid.bearer.push(bearer);
            laid.follows.push(follows);
            laid.main_bud.push(main);
            laid.side_buds.push(side);
            filled.push(false);
        }
        laid
    })
}

fn vigour_of_buds(laid: &Laid, flow: &Flow) -> Vec<f64> {
    let buds = |at: usize| {
        let side =
            if flow.side[at] > 0.0 { flow.to_side[at] * laid.side_buds[at] / flow.side[at] } else { 0.0 };
        let main = if laid.main_bud[at] > 0.0 { flow.to_main[at] } else { 0.0 };
        [main, side]
    };
    (0..laid.bearer.len()).flat_map(buds).collect()
}

proptest! {
    #[test]
    fn no_vigour_is_lost(laid in any_rows(), apical in 0.05..0.95_f64) {
        let sharing = Sharing { apical, strength: 2.0, reserve: 0.0, before: None };
        let mut flow = Flow::default();
        flow.run(laid.rows(), sharing);
        let sum: f64 = vigour_of_buds(&laid, &flow).iter().sum();
        prop_assert!((sum - flow.vigour[0]).abs() < 1e-9, "{sum} of {}", flow.vigour[0]);
    }

    #[test]
    fn with_all_reserves_kept_every_other_bud_gains_alike(laid in any_rows(), take in any::<prop::sample::Index>()) {
        let even = Sharing { apical: 0.5, strength: 2.0, reserve: 0.0, before: None };
        let mut flow = Flow::default();
        flow.run(laid.rows(), even);
        let (before, was) = (flow.light(0), vigour_of_buds(&laid, &flow));
        let mut cut = Laid { main_bud: laid.main_bud.clone(), side_buds: laid.side_buds.clone(), ..laid };
        let at = take.index(cut.side_buds.len());
        cut.side_buds[at] = 0.0;
        flow.run(cut.rows(), Sharing { reserve: 1.0, before: Some(before), ..even });
        prop_assume!(flow.light(0) > 1e-6);
        let factor = before / flow.light(0);
        for (bud, (was, is)) in was.iter().zip(vigour_of_buds(&cut, &flow)).enumerate() {
            if bud != 2 * at + 1 {
                prop_assert!((is - factor * was).abs() < 1e-9 * (1.0 + is), "{is} is not {factor} x {was}");
            }
        }
    }
}
