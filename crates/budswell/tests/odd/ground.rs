//! What stands on the pages of a collection: every page and every form that requests are made of.

use std::{
    collections::{BTreeMap, BTreeSet},
    fs,
    path::Path,
};

use super::{
    House,
    chance::Chance,
    forms::{Field, Form, forms, links},
    request::{self, Sent},
    routes::{Route, pattern, routes},
};

/// Pages of one pattern that are looked at for forms, and that many more where a route's form was not found.
const LOOKED_AT: [usize; 2] = [3, 200];

/// The collection's pages, and the forms on them.
pub struct Ground {
    routes: Vec<Route>,
    /// Addresses that showed a page.
    pub pages: Vec<String>,
    /// Forms by the pattern that takes them.
    pub forms: BTreeMap<String, Vec<Form>>,
    names: Vec<String>,
    files: Vec<Vec<u8>>,
}

/// Forms that no page of the demo shows as they are sent: by a script, by a sensor, after an upload, or when the clock is wrong.
fn by_hand() -> Vec<Form> {
    let field = |name: &str, values: &[&str]| Field {
        name: name.into(),
        values: values.iter().map(ToString::to_string).collect(),
        is_file: false,
    };
    let form = |action: &str, fields: Vec<Field>| Form {
        action: action.into(),
        is_post: true,
        is_parts: false,
        fields,
    };
    vec![
        form(
            "/bring/yes",
            vec![field("number", &["1", "2", "3", "7"]), field("leave_out", &["true", "false"])],
        ),
        form("/api/readings", vec![field("readings", &["[]"])]),
        form("/fetch", Vec::new()),
        form("/clock", vec![field("back", &["/", "/round"])]),
        form("/backup/nobody.db/restore", Vec::new()),
        // On a page only until green shows.
        form(
            "/trees/old-trident/leaves",
            vec![
                field("day", &["2026-03-08"]),
                field("leaf", &["full", "colouring", "falling", "bare"]),
                field("sureness", &["sure"]),
                field("back", &["today", "round", "tree"]),
            ],
        ),
        form("/pots/rules", vec![field("rule", &["drain"]), field("on", &["yes", "no"])]),
    ]
}

fn kept(folder: &str) -> Vec<Vec<u8>> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../fuzz/corpus").join(folder);
    let mut paths: Vec<_> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.sort();
    paths.iter().map(|path| fs::read(path).unwrap()).collect()
}

/// Gives a pot of the demo the photo that it does not come with.
pub fn photo_of_a_pot(house: &mut House) {
    let field = Field { name: "photo".into(), is_file: true, ..Field::default() };
    let action = "/pots/celadon-oval-46-cm/photos".to_string();
    let form = Form { action, is_post: true, is_parts: true, fields: vec![field] };
    let sent =
        request::whole(&house.address, &form, &[], include_bytes!("../../../../fuzz/corpus/photo/plain.jpg"));
    let reply = house.send(&sent).unwrap();
    assert!(matches!(reply.status, 303 | 404 | 422), "{}", reply.body);
}

impl Ground {
    /// Walks through the pages, further where a route's form was not found.
    pub fn look_over(house: &mut House) -> Ground {
        photo_of_a_pot(house);
        let files = ["photo", "tree_graph", "sheets", "calendars"].into_iter().flat_map(kept).collect();
        let mut ground =
            Ground { routes: routes(), pages: Vec::new(), forms: BTreeMap::new(), names: Vec::new(), files };
        let fixed = ground.routes.iter().filter(|it| it.method == "get" && !it.path.contains('{'));
        let mut waiting: Vec<String> = fixed.map(|route| route.path.clone()).collect();
        let mut put_off = Vec::new();
        let (mut seen, mut looked) = (BTreeSet::new(), BTreeMap::new());
        for most in LOOKED_AT {
            waiting.append(&mut put_off);
            while let Some(address) = waiting.pop() {
                let path = address.split('#').next().unwrap_or("").to_string();
                let Some(route) = pattern(&ground.routes, "get", &path) else { continue };
                let of_it: &mut usize = looked.entry(route.path.clone()).or_default();
                if *of_it >= most {
                    put_off.push(path);
                } else if seen.insert(path.clone()) {
                    *of_it += 1;
                    waiting.extend(ground.page(house, &path));
                }
            }
            if ground.without_forms().is_empty() {
                break;
            }
        }
        for form in by_hand() {
            ground.take(form);
        }
        ground.names.sort();
        ground.names.dedup();
        ground
    }

    /// Takes a page's forms; gives its links.
    fn page(&mut self, house: &mut House, path: &str) -> Vec<String> {
        let reply = house.get(path).unwrap();
        if reply.status == 404 && self.routes.iter().any(|route| route.path == path) {
            return Vec::new(); // It needs a query, and other pages link to it with one.
        }
        assert_eq!(reply.status, 200, "{path}");
        self.pages.push(path.into());
        if !reply.is_html {
            return Vec::new();
        }
        for form in forms(&reply.body) {
            self.take(form);
        }
        let links = links(&reply.body);
        let queries = links.iter().filter_map(|link| link.split(['?', '#']).nth(1));
        let names = queries.flat_map(|query| query.split('&')).filter_map(|pair| pair.split_once('='));
        self.names.extend(names.map(|(name, _)| name.to_string()));
        links
    }

    fn take(&mut self, mut form: Form) {
        if !form.is_post {
            self.names.extend(form.fields.into_iter().map(|field| field.name));
            return;
        }
        let Some(route) = pattern(&self.routes, "post", &form.action) else {
            assert!(by_hand().contains(&form), "a form goes to {}, where nobody answers", form.action);
            return;
        };
        if let Some(drawn) = form.fields.iter_mut().find(|field| field.name == "traced") {
            drawn.values = kept("traces").iter().map(|it| String::from_utf8_lossy(it).into_owned()).collect();
        }
        let known = self.forms.entry(route.path.clone()).or_default();
        if known.len() < 60 && !known.contains(&form) {
            known.push(form);
        }
    }

    /// Routes that write and that no form goes to.
    pub fn without_forms(&self) -> Vec<&str> {
        let posts = self.routes.iter().filter(|route| route.method == "post");
        posts.map(|route| route.path.as_str()).filter(|path| !self.forms.contains_key(*path)).collect()
    }

    /// The request of one case.
    pub fn request(&self, seed: u64, case: u64, host: &str) -> (Route, Sent) {
        let mut chance = Chance::new(seed, case);
        if chance.of_100(15) {
            let page = chance.one(&self.pages).clone();
            let route = pattern(&self.routes, "get", &page).unwrap();
            return (route.clone(), request::get(&mut chance, host, route, &page, &self.names));
        }
        let posts: Vec<&Route> = self.routes.iter().filter(|route| route.method == "post").collect();
        let route = *chance.one(&posts);
        let form = chance.one(&self.forms[&route.path]);
        (route.clone(), request::post(&mut chance, host, route, form, &self.files))
    }
}
