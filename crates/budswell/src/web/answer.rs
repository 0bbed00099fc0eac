//! What a handler gives back: a page, a way on, or a clear no.

use std::borrow::Borrow;

use askama::Template;
use axum::{
    Form,
    extract::{FromRequest, Request},
    http::StatusCode,
    response::{Html, IntoResponse, Redirect, Response},
};
use intake::{record::FormError, version::starting_from};
use serde::de::DeserializeOwned;
use store::{store::Store, version::Record};
use view::whole::Whole;

use crate::web::{
    App,
    both::{self, Differs},
};

/// A page that says no, and why.
#[derive(Template)]
#[template(path = "message.html")]
struct Message<'a> {
    here: &'static str,
    title: &'a str,
    why: &'a str,
    typed: &'a str,
}

/// A form's fields; a form that lacks one is answered on a page of ours.
#[derive(Debug)]
pub struct Typed<T>(pub T);

impl<T: DeserializeOwned, S: Send + Sync> FromRequest<S> for Typed<T> {
    type Rejection = Answer;

    async fn from_request(request: Request, state: &S) -> Result<Typed<T>, Answer> {
        match Form::<T>::from_request(request, state).await {
            Ok(Form(fields)) => Ok(Typed(fields)),
            Err(_) => Err(Answer::no(
                StatusCode::UNPROCESSABLE_ENTITY,
                "Not saved",
                "Not saved: a field is missing or cannot be read. Go back and choose again.".into(),
            )),
        }
    }
}

/// The fields of a form in which a name may stand more than once.
#[derive(Clone, Debug, Default, serde::Deserialize)]
#[serde(transparent)]
pub struct Fields(Vec<(String, String)>);

impl Fields {
    /// Adds a field that came another way than typed: in the address, or beside a photo.
    pub fn add(&mut self, name: &str, value: String) {
        self.0.push((name.into(), value));
    }

    /// The first field of a name; empty where there is none.
    pub fn of(&self, name: &str) -> &str {
        self.0.iter().find(|(key, _)| key == name).map_or("", |(_, value)| value)
    }

    /// Every field that was typed or chosen, a line each, so that nothing is lost where its form cannot be shown again.
    pub fn shown(&self) -> String {
        const OURS: [&str; 4] = ["revision", "hand", "back", "at"];
        let own = self.0.iter().filter(|(name, value)| !OURS.contains(&name.as_str()) && !value.is_empty());
        own.map(|(name, value)| format!("{}: {value}", name.replace('_', " "))).collect::<Vec<_>>().join("\n")
    }

    /// Every field but those of some names, as name and value.
    pub fn others(&self, names: &[&str]) -> Vec<(&str, &str)> {
        let own = self.0.iter().filter(|(name, _)| !names.contains(&name.as_str()));
        own.map(|(name, value)| (name.as_str(), value.as_str())).collect()
    }

    /// Every field as name and value.
    pub fn into_pairs(self) -> Vec<(String, String)> {
        self.0
    }

    /// Every field of a name.
    pub fn all(&self, name: &str) -> Vec<String> {
        self.0.iter().filter(|(key, _)| key == name).map(|(_, value)| value.clone()).collect()
    }
}

/// A form that was not taken, shown again on its page with the reason and everything that was typed; empty on a page nobody was
/// refused on.
#[derive(Debug, Default)]
pub struct Refused {
    form: &'static str,
    /// Why not.
    pub why: String,
    fields: Fields,
    /// What stands now beside what was typed, where another hand was faster.
    pub both: Vec<Differs>,
    /// Whether the form goes on from what stands now, not from the version it was typed on.
    is_fresh: bool,
    /// Whether it can be saved with a reason.
    is_asked: bool,
}

/// A page nobody was refused on.
static NOBODY: Refused = Refused {
    form: "",
    why: String::new(),
    fields: Fields(Vec::new()),
    both: Vec::new(),
    is_fresh: false,
    is_asked: false,
};

impl Refused {
    /// A form that comes back, and why.
    pub fn new(form: &'static str, why: String, fields: Fields) -> Refused {
        Refused { form, why, fields, ..Refused::default() }
    }

    /// The same from what stands now, which the page shows beside what was typed.
    fn afresh(self, both: Vec<Differs>) -> Refused {
        Refused { both, is_fresh: true, ..self }
    }

    /// The version that a form on the page starts from: that of the page, or of the form that comes back with what was typed on an
    /// older one.
    pub fn version(&self, form: &str, page: impl ToString) -> String {
        if self.is(form) && !self.is_fresh { self.fields.of("revision").into() } else { page.to_string() }
    }

    /// The same for one of many rows that have a form each: itself on the row it was typed on, nobody on the others.
    pub fn row(&self, field: &str, value: impl ToString) -> &Refused {
        if self.is_on(field, value) { self } else { &NOBODY }
    }

    /// The same for a form that stands for all the rows of a list together.
    pub fn row_of(&self, field: &str, rows: &[(String, String)]) -> &Refused {
        if rows.iter().any(|(key, _)| self.is_on(field, key)) { self } else { &NOBODY }
    }

    /// Whether it was typed on this one of many rows.
    pub fn is_on(&self, field: &str, value: impl ToString) -> bool {
        self.fields.of(field) == value.to_string()
    }

    /// Whether it goes on from what stands now.
    pub fn is_fresh(&self) -> bool {
        self.is_fresh
    }

    /// Everything typed in a field that the form repeats.
    pub fn all(&self, form: &str, name: &str) -> Vec<String> {
        if self.is(form) { self.fields.all(name) } else { Vec::new() }
    }

    /// Whether this form asks for a reason, or one was typed.
    pub fn is_asked(&self, form: &str) -> bool {
        self.is(form) && (self.is_asked || !self.fields.of("despite").is_empty())
    }

    /// Whether it is this form.
    pub fn is(&self, form: &str) -> bool {
        self.form == form && !self.why.is_empty()
    }

    /// What was typed into a field, or what usually stands there.
    pub fn or<'a>(&'a self, form: &str, field: &str, usual: &'a str) -> &'a str {
        if self.is(form) { self.fields.of(field) } else { usual }
    }

    /// Whether a choice of a list was taken, or is usually.
    pub fn chose(&self, form: &str, field: &str, value: impl AsRef<str>, usual: impl Borrow<bool>) -> bool {
        let taken = || self.fields.all(field).iter().any(|it| it == value.as_ref());
        if self.is(form) { taken() } else { *usual.borrow() }
    }
}

/// A form's no: its page again with all that was typed, or where the store said no, a page of its own that shows it.
pub fn again(
    why: FormError,
    form: &'static str,
    fields: Fields,
    page: impl FnOnce(Refused) -> Result<Answer, Answer>,
) -> Result<Response, Answer> {
    if matches!(why, FormError::Store(_)) {
        return Err(Answer::form(why, fields.shown()));
    }
    let is_asked = matches!(why, FormError::Asked { .. });
    let status = if is_asked { StatusCode::CONFLICT } else { StatusCode::UNPROCESSABLE_ENTITY };
    let page = page(Refused { is_asked, ..Refused::new(form, why.to_string(), fields) })?;
    Ok((status, page).into_response())
}

/// A form's no as [`again`] tells it; where the record moved on, is held or in use, the page as it stands now with all that was typed.
pub fn again_or_clash(
    app: &App,
    why: FormError,
    form: &'static str,
    fields: Fields,
    page: impl Fn(Refused) -> Result<Answer, Answer>,
) -> Result<Response, Answer> {
    again_or_stands(app, why, form, fields, |_| None, page)
}

/// The same for a form that starts empty: what stands now of what it would change, in words.
pub fn again_or_stands(
    app: &App,
    why: FormError,
    form: &'static str,
    fields: Fields,
    stands: impl Fn(&Whole) -> Option<String>,
    page: impl Fn(Refused) -> Result<Answer, Answer>,
) -> Result<Response, Answer> {
    use store::error::Error;
    let words = match &why {
        FormError::Store(Error::Stale { .. } | Error::ChangedMeanwhile { .. } | Error::OtherHistory) => {
            let now = stands(&*app.whole()?);
            return clash((StatusCode::CONFLICT, MEANWHILE.into()), form, fields, now, page);
        }
        FormError::NoVersion => {
            let (now, status) = (stands(&*app.whole()?), StatusCode::UNPROCESSABLE_ENTITY);
            return clash((status, why.to_string()), form, fields, now, page);
        }
        FormError::Store(Error::Held { pot, by }) => {
            let whole = app.whole()?;
            let [pot, by] = [view::pots::name_of(&whole, pot), view::pots::name_of(&whole, by)];
            format!("{pot} is held for {by} that season")
        }
        FormError::Store(Error::InUse { what, key, by }) => {
            let whole = app.whole()?;
            // What holds it begins with a key, and may go on in words.
            let (holder, more) = by.split_once(", ").unwrap_or((by, ""));
            let [key, holder] = [key, holder].map(|key| view::pots::name_of(&whole, key));
            let more = if more.is_empty() { String::new() } else { format!(", {more}") };
            format!("the {what} {key} cannot go: it is held by {holder}{more}")
        }
        _ => return again(why, form, fields, page),
    };
    let page = page(Refused::new(form, words, fields))?;
    Ok((StatusCode::CONFLICT, page).into_response())
}

/// Why the slower of two hands is refused.
pub const MEANWHILE: &str = "this was changed on another device meanwhile";

/// The page of a form that another hand overtook: what stands now and what was typed side by side, the form still filled, and going on
/// from what stands now. A page that no longer has the form is told from what was typed alone.
fn clash(
    (status, why): (StatusCode, String),
    form: &'static str,
    fields: Fields,
    now: Option<String>,
    page: impl Fn(Refused) -> Result<Answer, Answer>,
) -> Result<Response, Answer> {
    let drawn = |refused| match page(refused)? {
        Answer::Page(html) => Ok(html),
        other => Err(other),
    };
    let (fresh, typed) =
        (drawn(Refused::default())?, drawn(Refused::new(form, why.clone(), fields.clone()))?);
    if !typed.contains("id=\"refused\"") {
        let stands = now.map_or_else(String::new, |now| format!(" Saved now: {now}."));
        let why = format!("Not saved: {why}.{stands}");
        return Err(Answer::No { status, title: "Not saved", why, typed: fields.shown() });
    }
    let both = both::differing(&fresh, &typed, &fields.others(&[]), now);
    let page = page(Refused::new(form, why, fields).afresh(both))?;
    Ok((status, page).into_response())
}

/// Runs an edit of records whose form names the version it started from.
pub fn edit<T, E: From<FormError>>(
    app: &App,
    fields: &Fields,
    records: impl IntoIterator<Item = Record>,
    edit: impl FnOnce(&mut Store) -> Result<T, E>,
) -> Result<Result<T, E>, Answer> {
    app.change(|store| Ok(starting_from(store, records, fields.of("revision"), edit)))
}

/// What goes back to the browser.
#[derive(Debug)]
pub enum Answer {
    /// A finished page.
    Page(String),
    /// Go and see there.
    See(String),
    /// No, and why; what was typed is shown again so that nothing is lost.
    No {
        /// The status.
        status: StatusCode,
        /// In a few words.
        title: &'static str,
        /// The reason.
        why: String,
        /// What was typed.
        typed: String,
    },
}

impl Answer {
    /// A page out of its template.
    pub fn page(template: &impl Template) -> Result<Answer, Answer> {
        template.render().map(Answer::Page).map_err(|_| Answer::broken())
    }

    /// Something inside broke.
    pub fn broken() -> Answer {
        Answer::no(
            StatusCode::INTERNAL_SERVER_ERROR,
            "Something broke",
            "Something inside Budswell failed. What you sent was either saved whole or not at all: look at the page it \
             belongs to before you send it again."
                .into(),
        )
    }

    /// No, and why.
    pub fn no(status: StatusCode, title: &'static str, why: String) -> Answer {
        Answer::No { status, title, why, typed: String::new() }
    }

    /// Nothing of that name.
    pub fn missing(what: &str) -> Answer {
        Answer::no(
            StatusCode::NOT_FOUND,
            "Not in the collection",
            format!("There is no {what} of that name here."),
        )
    }

    /// The store's no.
    pub fn store(why: store::error::Error) -> Answer {
        use store::error::Error;
        let (status, title) = match why {
            Error::Stale { .. } | Error::ChangedMeanwhile { .. } | Error::OtherHistory => {
                (StatusCode::CONFLICT, "Changed meanwhile")
            }
            Error::Held { .. } => (StatusCode::CONFLICT, "Held for another tree"),
            Error::InUse { .. } => (StatusCode::CONFLICT, "It stays"),
            Error::Unknown { .. } => (StatusCode::NOT_FOUND, "Not in the collection"),
            Error::DiskFull => (StatusCode::INSUFFICIENT_STORAGE, "The disk is full"),
            _ => (StatusCode::INTERNAL_SERVER_ERROR, "The store said no"),
        };
        Answer::no(status, title, why.to_string())
    }

    /// A form's no, with what was typed.
    pub fn form(why: FormError, typed: String) -> Answer {
        let answer = match why {
            FormError::Store(why) => Answer::store(why),
            asked @ FormError::Asked { .. } => {
                Answer::no(StatusCode::CONFLICT, "Not saved", asked.to_string())
            }
            field => Answer::no(StatusCode::UNPROCESSABLE_ENTITY, "Not taken", field.to_string()),
        };
        match answer {
            Answer::No { status, title, why, .. } => Answer::No { status, title, why, typed },
            other => other,
        }
    }
}

impl IntoResponse for Answer {
    fn into_response(self) -> Response {
        match self {
            Answer::Page(html) => Html(html).into_response(),
            Answer::See(path) => Redirect::to(&in_signs(&path)).into_response(),
            Answer::No { status, title, why, typed } => {
                let page = Message { here: "", title, why: &why, typed: &typed }.render();
                (status, Html(page.unwrap_or(why))).into_response()
            }
        }
    }
}

/// An address in the signs that a header may hold (RFC 3986, section 2): any other byte is written as its number, so that the way on
/// never fails after something was saved.
fn in_signs(path: &str) -> String {
    path.bytes().fold(String::new(), |mut signs, byte| {
        match byte {
            b'!'..=b'~' if !b"\"<>\\^`{|}".contains(&byte) => signs.push(char::from(byte)),
            other => signs.push_str(&format!("%{other:02X}")),
        }
        signs
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_way_on_is_a_header_whatever_stands_in_it() {
        for (path, signs) in [
            ("/trees/old-maple#water", "/trees/old-maple#water"),
            ("/round?at=a\r\nSet-Cookie: x", "/round?at=a%0D%0ASet-Cookie:%20x"),
            ("/trees/hêtre", "/trees/h%C3%AAtre"),
            ("/pots?said=1&x=%20", "/pots?said=1&x=%20"),
        ] {
            let response = Answer::See(path.into()).into_response();
            assert_eq!(response.status(), StatusCode::SEE_OTHER);
            assert_eq!(response.headers()["location"], signs);
        }
    }
}
