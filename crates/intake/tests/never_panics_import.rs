//! Whatever a file holds, importing it ends in all of it or none of it, and a second time adds nothing.

use intake::import::{Kind, Options, import, preview};
use proptest::{collection::vec, prelude::*};
use store::{reader::Reader, store::Store};

fn stocked() -> Store {
    let mut store = Store::in_memory().unwrap();
    let sheets = [
        (Kind::Site, "name,latitude,longitude,elevation,zone\nHill,47.4,8.5,450,Europe/Zurich\n"),
        (Kind::Places, "name,shelter\nFrame,cold-frame\nBench,open-bench\n"),
        (Kind::Trees, "name,taxon\nOld Maple,acer-palmatum\nLarch,larix-decidua\n"),
    ];
    for (kind, text) in sheets {
        import(&mut store, &kind, "stock", text.as_bytes(), &Options::default()).unwrap();
    }
    store
}

/// Everything that an import may add to.
fn count(reader: &Reader) -> [usize; 14] {
    [
        usize::from(reader.site().unwrap().is_some()),
        reader.places().unwrap().len(),
        reader.trees().unwrap().len(),
        reader.moves().unwrap().len(),
        reader.looks().unwrap().len(),
        reader.works().unwrap().len(),
        reader.pots().unwrap().len(),
        reader.mixes().unwrap().len(),
        reader.potted().unwrap().len(),
        reader.crowns().unwrap().len(),
        reader.drinks().unwrap().len(),
        reader.aways().unwrap().len(),
        reader.station_days().unwrap().len() + reader.station_hours().unwrap().len(),
        reader.logged_hours("frame").unwrap().len(),
    ]
}

fn kinds() -> impl Strategy<Value = (Kind, &'static str)> {
    prop_oneof![
        Just((Kind::Site, "name,latitude,longitude,elevation,zone")),
        Just((Kind::Places, "name,shelter,facing,lamp_umol,lamp_hours,capacity")),
        Just((Kind::Trees, "name,taxon,confidence,since,note")),
        Just((Kind::Moves, "tree,place,day")),
        Just((Kind::Looks, "tree,day,stage,sureness,note")),
        Just((Kind::Works, "tree,day,kind,note")),
        Just((Kind::Pots, "name,outline,length,width,height,thick,wall")),
        Just((Kind::Mixes, "name,grain_low,grain_high,height,volume")),
        Just((Kind::Potted, "tree,day,pot,mix")),
        Just((Kind::Crowns, "tree,day,length,width")),
        Just((Kind::Drinks, "tree,at,deed,weight,remark")),
        Just((Kind::Aways, "BEGIN:VCALENDAR")),
        Just((Kind::Weather, "date,tmin,tmax")),
        Just((Kind::from_key("logger", "frame").unwrap(), "time,temp_c")),
    ]
}

fn cell() -> impl Strategy<Value = String> {
    prop_oneof![
        Just("Old Maple"),
        Just("larch"),
        Just("Frame"),
        Just("2026-03-08"),
        Just("2026-02-30"),
        Just("2026-03-08T05:00"),
        Just("03"),
        Just("4.5"),
        Just("-999"),
        Just("repot"),
        Just("oval"),
        Just("watered"),
        Just("1.2 kg"),
        Just("BEGIN:VEVENT"),
        Just("DTSTART:20260314"),
        Just("UID:a"),
        Just("cold-frame"),
        Just("acer-palmatum"),
        Just("Europe/Zurich"),
        Just(""),
    ]
    .prop_map(String::from)
    .boxed()
    .or_text()
}

/// Now and then any text at all.
trait OrText {
    fn or_text(self) -> BoxedStrategy<String>;
}

impl OrText for BoxedStrategy<String> {
    fn or_text(self) -> BoxedStrategy<String> {
        prop_oneof![9 => self, 1 => "\\PC{0,12}"].boxed()
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, ..ProptestConfig::default() })]

    #[test]
    fn a_sheet_is_taken_whole_or_not_at_all((kind, header) in kinds(), rows in vec(vec(cell(), 1..6), 0..8)) {
        let mut text = format!("{header}\n");
        for row in rows {
            text.push_str(&row.join(","));
            text.push('\n');
        }
        let mut store = stocked();
        let reader = store.reader().unwrap();
        let before = count(&reader);
        let told = preview(&reader, &kind, "any.csv", text.as_bytes(), &Options::default()).unwrap();
        prop_assert_eq!(count(&reader), before, "a preview wrote");
        match import(&mut store, &kind, "any.csv", text.as_bytes(), &Options::default()) {
            Ok(done) => {
                prop_assert!(told.refused.is_empty() && told.questions.iter().all(|it| it.likely.is_some()));
                prop_assert!(done.added <= done.rows);
                let after = count(&reader);
                let again = import(&mut store, &kind, "any.csv", text.as_bytes(), &Options::default()).unwrap();
                prop_assert_eq!(count(&reader), after);
                if !matches!(kind, Kind::Moves | Kind::Weather | Kind::Logger { .. }) {
                    prop_assert_eq!(again.added, 0);
                }
            }
            Err(_) => {
                prop_assert!(!told.refused.is_empty() || !told.questions.is_empty());
                prop_assert_eq!(count(&reader), before, "half an import");
            }
        }
    }

    #[test]
    fn any_bytes_leave_a_sound_collection((kind, _) in kinds(), bytes in vec(any::<u8>(), 0..400), leave_out: bool) {
        let mut store = stocked();
        let _either = import(&mut store, &kind, "any", &bytes, &Options { leave_out, ..Options::default() });
        prop_assert!(store.reader().unwrap().faults().unwrap().is_empty());
    }
}
