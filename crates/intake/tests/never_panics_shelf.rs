//! Whatever is typed of a pot, a repot or the shed, or stands in such a sheet, ends in values that can be or in a refusal, and nothing is
//! half kept.

use intake::{
    asked::Asked,
    bucket,
    import::{Kind, Options, import},
    sheet::shelf::{ShelfSheet, read},
    shelf::{
        Against, GlazeForm, MeantForm, PotForm, RepotForm, StockForm, TollForm, WhereaboutsForm, add_pot,
        blend, edit_pot, meant, pot_photo, read_glaze, repot, stock, toll, whereabouts,
    },
};
use jiff::civil::{Date, date};
use measure::quantity::{Share, Units};
use proptest::{collection::vec, prelude::*, sample::select};
use store::store::Store;

const TODAY: Date = date(2026, 3, 28);

fn stocked() -> Store {
    let mut store = Store::in_memory().unwrap();
    import(&mut store, &Kind::Trees, "t.csv", b"name,taxon\nOld Maple,acer-palmatum\n", &Options::default())
        .unwrap();
    bucket::add_mix(&mut store, "Mix", ["2", "5"]).unwrap();
    let pot = PotForm {
        name: "Oval",
        shape: "oval",
        length: "31",
        height: "7",
        finish: "matt",
        ..PotForm::default()
    };
    add_pot(&mut store, &pot, Units::Metric, TODAY).unwrap();
    store
}

/// What fingers leave in a field: words that fit somewhere, numbers of every kind, nothing, anything.
fn typed() -> impl Strategy<Value = String> {
    let near = select(vec![
        "",
        "oval",
        "mokko",
        "slab",
        "gloss",
        "unglazed",
        "pot_celadon",
        "none",
        "2026",
        "2026-03-01",
        "yes",
        "no",
        "mix",
        "lava",
        "pest",
        "wire",
        "broken",
        "gone",
        "oval",
        "old-maple",
        "80 CHF",
        "0",
        "1",
        "7",
        "35 %",
        "-3",
        "0,4",
        "12 in",
        "nan",
        "inf",
        "-0",
        "1e308",
        "1e-308",
        "99999999999999999999",
    ]);
    prop_oneof![6 => near.prop_map(String::from), 1 => "\\PC{0,12}", 2 => any::<f64>().prop_map(|it| it.to_string())]
}

/// Refused or taken, the file is sound and an act either stands or left nothing.
fn sound(store: &Store, before: i64, taken: bool) -> Result<(), TestCaseError> {
    let reader = store.reader().unwrap();
    prop_assert_eq!(reader.faults().unwrap(), Vec::<String>::new());
    prop_assert!(taken || reader.changes().unwrap() == before, "refused, and yet something was written");
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]

    #[test]
    fn a_pot_is_kept_whole_or_not_at_all(cells in vec(typed(), 26), training: bool, imperial: bool) {
        let mut store = stocked();
        let before = store.reader().unwrap().changes().unwrap();
        let cell = |at: usize| cells[at].as_str();
        let form = PotForm {
            name: "Newcomer", shape: cell(0), outline: cell(1), length: cell(2), width: cell(3), corner: cell(4),
            middle_length: cell(5), bottom_length: cell(6), height: cell(7), feet: cell(8), floor: cell(9), thick: cell(10),
            gap: cell(11), measured: cell(12), finish: cell(13), clay: cell(14), drain_holes: cell(15), hole: cell(16),
            swatch: cell(17), l: cell(18), a: cell(19), b: cell(20), empty: cell(21), paid: cell(22), worth: cell(23),
            bought: cell(24), count: cell(25), training, ..PotForm::default()
        };
        let units = if imperial { Units::Imperial } else { Units::Metric };
        let taken = add_pot(&mut store, &form, units, TODAY).is_ok();
        sound(&store, before, taken)?;
        let before = store.reader().unwrap().changes().unwrap();
        let taken = edit_pot(&mut store, "oval", "1", &form, units, TODAY).is_ok();
        sound(&store, before, taken)?;
    }

    #[test]
    fn a_repot_is_kept_whole_or_not_at_all(cells in vec(typed(), 14), bare: bool, limit in 0.0..1.0_f64) {
        let mut store = stocked();
        let cell = |at: usize| cells[at].as_str();
        let form = RepotForm {
            tree: "old-maple", pot: "oval", mix: "mix", day: cell(0), cut: cell(1), bare, proud: cell(2), clock: cell(3),
            sideways: cell(4), forward: cell(5), pad_length: cell(6), pad_width: cell(7), pad_depth: cell(8), took: cell(9),
            note: cell(10), subject: cell(11), despite: cell(12), found: cell(13),
        };
        let before = store.reader().unwrap().changes().unwrap();
        let taken = repot(&mut store, &form, None, Against { limit: Some(Share(limit)), unfit: None, verdict: None }, Units::Metric, TODAY).is_ok();
        sound(&store, before, taken)?;
    }

    #[test]
    fn the_smaller_forms_are_taken_or_refused(cells in vec(typed(), 6)) {
        let mut store = stocked();
        let cell = |at: usize| cells[at].as_str();
        let tree = "old-maple";
        let mean = MeantForm { tree, season: cell(0), repot: cell(1), cut: cell(2), mix: cell(3), ..MeantForm::default() };
        let shed = StockForm { item: cell(0), left: cell(1), pack: cell(2), delivery: cell(3), day: cell(4) };
        let bear = TollForm { tree, day: cell(0), what: cell(1), amount: cell(2), note: cell(3), asked: Asked::default() };
        let gone = WhereaboutsForm { pot: "oval", whereabouts: cell(0), into: cell(1), revision: cell(2), spot: cell(3) };
        let parts = [(cell(0), cell(1)), (cell(2), cell(3))];
        type Act<'a> = Box<dyn FnOnce(&mut Store) -> bool + 'a>;
        let acts: [Act<'_>; 5] = [
            Box::new(|store| meant(store, mean, TODAY).is_ok()),
            Box::new(|store| stock(store, shed, TODAY).is_ok()),
            Box::new(|store| toll(store, bear, TODAY).is_ok()),
            Box::new(|store| whereabouts(store, gone, TODAY).is_ok()),
            Box::new(|store| blend(store, "mix", &parts).is_ok()),
        ];
        for act in acts {
            let before = store.reader().unwrap().changes().unwrap();
            let taken = act(&mut store);
            sound(&store, before, taken)?;
        }
    }

    #[test]
    fn any_text_is_a_sheet_of_the_shelf_or_refused(
        text in "\\PC{0,200}",
        rows in vec(vec(typed(), 7), 0..4),
        sheet in select(ShelfSheet::ALL.to_vec()),
    ) {
        let header = match sheet {
            ShelfSheet::Wares => "pot,shape,count,training,paid,swatch,drain_holes",
            ShelfSheet::Grown => "tree,style,kind,feel,age,shown,asked",
            ShelfSheet::Statures => "tree,day,height,trunk",
            ShelfSheet::Tints => "tree,season,swatch,l,a,b",
            ShelfSheet::Vigours => "tree,day,strength,why",
            ShelfSheet::PotLooks => "tree,day,drained,rocks,roots,note",
            ShelfSheet::Meant => "tree,season,repot,cut,mix,show,why",
            ShelfSheet::Repots => "tree,day,pot,mix,cut,clock,took",
            ShelfSheet::Tolls => "tree,day,what,amount,note",
            ShelfSheet::Reservations => "pot,tree,season,said,made,why",
            ShelfSheet::Likings => "tree,liked,over,day",
            ShelfSheet::Stock => "item,left,pack,delivery,day",
            ShelfSheet::Blends => "mix,component,parts",
        };
        let _ = read(sheet, &text, &std::collections::BTreeMap::new());
        let mut store = stocked();
        let before = store.reader().unwrap().changes().unwrap();
        let rows: Vec<String> = rows.into_iter().map(|row| row.join(",")).collect();
        let text = format!("{header}\n{}\n", rows.join("\n"));
        let taken = import(&mut store, &Kind::Shelf(sheet), "s.csv", text.as_bytes(), &Options::default()).is_ok();
        sound(&store, before, taken)?;
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn a_glaze_is_read_or_refused(card in vec(typed(), 4), pot in vec(typed(), 4), light in typed(), seed: u8) {
        let mut store = stocked();
        let picture = image::RgbImage::from_fn(220, 210, |x, y| image::Rgb([x as u8, y as u8 ^ seed, seed]));
        let mut bytes = std::io::Cursor::new(Vec::new());
        picture.write_to(&mut bytes, image::ImageFormat::Png).unwrap();
        let photo = pot_photo(&mut store, "oval", &bytes.into_inner(), "", "", TODAY).unwrap();
        let corner = |cells: &[String]| -> [String; 4] { cells.to_vec().try_into().unwrap() };
        let (card, pot) = (corner(&card), corner(&pot));
        let before = store.reader().unwrap().changes().unwrap();
        let form = GlazeForm {
            photo: &photo.key,
            card: card.each_ref().map(String::as_str),
            pot: pot.each_ref().map(String::as_str),
            reflectance: &light,
            revision: "1",
        };
        let taken = read_glaze(&mut store, form).is_ok();
        sound(&store, before, taken)?;
    }
}
