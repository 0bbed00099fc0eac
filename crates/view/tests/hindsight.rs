//! Told against seen on the demo, whose buds follow a truth of another form than the product's model.

mod demo;

use demo::demo;
use jiff::civil::date;
use view::{
    hindsight::{Hindsight, hindsight},
    whole::whole,
};

fn on(year: i16) -> Option<Hindsight> {
    hindsight(&whole(&demo().reader().unwrap(), date(year, 3, 28)).unwrap())
}

/// The mean miss as a share of the picture's width, in hundredths; the demo's picture is some hundred days wide.
fn off(it: &Hindsight) -> f64 {
    it.dots.iter().map(|dot| (dot.x - (100.0 - dot.y)).abs()).sum::<f64>() / it.dots.len() as f64
}

#[test]
fn past_springs_stand_beside_what_the_springs_before_had_taught() {
    let two = on(2026).unwrap();
    assert!(two.dots.len() > 30, "{}", two.dots.len());
    assert!(two.dots.iter().all(|dot| (0.0..=100.0).contains(&dot.x) && (0.0..=100.0).contains(&dot.y)));
    // It misses, by days and not by months.
    let miss = off(&two);
    assert!((1.0..20.0).contains(&miss), "{miss}: {}", two.says);
    assert!(two.ticks.len() >= 3, "{:?}", two.ticks);
    println!("{}", two.says);
}

#[test]
fn before_any_spring_has_passed_there_is_no_picture() {
    assert_eq!(on(2024), None);
}
