//! Claims about *Feed and spray*.

use super::*;

fn told(units: Units, fields: &[(&str, &str)]) -> Feed {
    page(Typed::of(units, |name| {
        fields.iter().find(|(key, _)| *key == name).map_or_else(String::new, |(_, text)| (*text).into())
    }))
}

fn shown(part: &Part, key: &str) -> String {
    part.figures.iter().find(|it| it.key == key).unwrap_or_else(|| panic!("{key}: {part:?}")).shown()
}

#[test]
fn an_empty_form_answers_nothing_and_still_warns() {
    let page = told(Units::Metric, &[]);
    for (_, part) in page.parts() {
        assert!(part.figures.is_empty() && part.wrong.is_none() && part.cautions.len() > 3, "{part:?}");
    }
}

#[test]
fn a_feed_with_stock_in_both_systems() {
    let bag = [
        ("ppm", "150"),
        ("nitrogen", "20"),
        ("phosphate", "10"),
        ("potash", "20"),
        ("volume", "5"),
        ("ratio", "200"),
    ];
    let metric = told(Units::Metric, &bag).feed;
    assert_eq!(shown(&metric, "feed"), "0.75 g per litre");
    assert_eq!(shown(&metric, "batch"), "3.75 g");
    assert_eq!(shown(&metric, "stock"), "150 g per litre");
    assert_eq!(shown(&metric, "ppm_k"), "124.5 ppm");
    let imperial = told(Units::Imperial, &bag).feed;
    assert_eq!(shown(&imperial, "stock"), "20.03 oz per US gal");
    assert_eq!(shown(&imperial, "batch"), "0.5007 oz");
}

#[test]
fn what_cannot_be_used_is_named_with_its_value() {
    let wrong = |fields: &[(&str, &str)]| {
        let page = told(Units::Metric, fields);
        let parts = page.parts();
        parts.iter().find_map(|(_, part)| part.wrong.clone()).unwrap().to_string()
    };
    assert_eq!(wrong(&[("ppm", "lots"), ("nitrogen", "5")]), "ppm N wanted: “lots” is not a number");
    assert!(wrong(&[("ppm", "100"), ("nitrogen", "0")]).starts_with("N on the label: “0” cannot be used"));
    assert!(wrong(&[("ppm", "1,250"), ("nitrogen", "5")]).contains("“1,250” could be thousands"));
    assert!(wrong(&[("reading", "900")]).starts_with("Meter shows: “” says no unit"));
    assert!(
        wrong(&[("label", "2.5"), ("label-in", "ml-per-l")]).starts_with("Volume for today: “” is empty")
    );
    assert!(
        wrong(&[("label", "-2"), ("label-in", "ml-per-l"), ("spray", "1")])
            .contains("label figure, ml per litre is -2")
    );
    assert!(
        wrong(&[("label", "2"), ("label-in", "drops"), ("spray", "1")])
            .starts_with("Label figure is in: “drops”")
    );
}

#[test]
fn the_same_water_reads_two_ways() {
    let page = told(Units::Metric, &[("reading", "700"), ("meter", "ppm700"), ("water", "0,4")]);
    assert_eq!(shown(&page.salts, "ec"), "1 dS/m (mS/cm)");
    assert_eq!(shown(&page.salts, "ppm_500"), "500 “ppm”");
    assert_eq!(shown(&page.salts, "ec_net"), "0.6 dS/m");
}

#[test]
fn a_spray_is_the_label_times_the_volume() {
    let label = |figure, kind, measured| {
        [("label", figure), ("label-in", kind), ("spray", "2"), ("measured", measured)]
    };
    let spray = told(Units::Metric, &label("200", "one-to", "finished")).spray;
    assert_eq!((shown(&spray, "product"), shown(&spray, "water")), ("9.95 ml".into(), "1.99 litres".into()));
    let spray = told(Units::Imperial, &label("1", "floz-per-gal", "finished")).spray;
    assert_eq!(shown(&spray, "product_imperial"), "2 US fl oz");
    let powder = told(Units::Metric, &label("1.5", "g-per-l", "")).spray;
    assert_eq!(shown(&powder, "product"), "3 g");
}
