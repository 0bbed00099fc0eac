//! The routes as the source names them, so that a new one cannot be forgotten.

use std::{fs, path::Path};

/// A method and an address with `{names}` in it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Route {
    pub method: &'static str,
    pub path: String,
}

/// Every route of the house.
pub fn routes() -> Vec<Route> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let read = |name: &str| fs::read_to_string(folder.join(name)).unwrap_or_default();
    let text = read("web.rs") + &read("web/table.rs");
    let mut routes = Vec::new();
    for line in text.lines().map(str::trim) {
        for method in ["get", "post"] {
            let path = if let Some(rest) = line.strip_prefix(&format!("{method} \"")) {
                rest.split('"').next()
            } else if line.starts_with(".route(\"") && line.contains(&format!("{method}(")) {
                line.split('"').nth(1)
            } else {
                None
            };
            routes.extend(path.map(|path| Route { method, path: path.into() }));
        }
    }
    assert!(routes.len() > 100, "only {} routes were found in the source", routes.len());
    routes
}

/// The pattern that answers an address: of those that fit, the one that names most of it.
pub fn pattern<'a>(routes: &'a [Route], method: &str, address: &str) -> Option<&'a Route> {
    let path = address.split(['?', '#']).next().unwrap_or("");
    let fits = |route: &&Route| {
        let (ours, theirs) = (route.path.split('/'), path.split('/'));
        route.method == method
            && route.path.matches('/').count() == path.matches('/').count()
            && ours.zip(theirs).all(|(our, their)| our == their || our.starts_with('{') && !their.is_empty())
    };
    routes.iter().filter(fits).min_by_key(|route| route.path.matches('{').count())
}
