//! What a handler gives back: a page, a way on, or a clear no.

use askama::Template;
use axum::{
    Form,
    extract::{FromRequest, Request},
    http::StatusCode,
    response::{Html, IntoResponse, Redirect, Response},
};
use intake::record::FormError;
use serde::de::DeserializeOwned;

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
            Err(why) => Err(Answer::no(
                StatusCode::UNPROCESSABLE_ENTITY,
                "Not taken",
                format!(
                    "A field is missing or cannot be read. Go back and choose again. ({})",
                    why.body_text()
                ),
            )),
        }
    }
}

/// The fields of a form in which a name may stand more than once.
#[derive(Debug, serde::Deserialize)]
#[serde(transparent)]
pub struct Fields(Vec<(String, String)>);

impl Fields {
    /// The first field of a name; empty where there is none.
    pub fn of(&self, name: &str) -> &str {
        self.0.iter().find(|(key, _)| key == name).map_or("", |(_, value)| value)
    }

    /// Every field of a name.
    pub fn all(&self, name: &str) -> Vec<String> {
        self.0.iter().filter(|(key, _)| key == name).map(|(_, value)| value.clone()).collect()
    }
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
            "The page could not be made. Start Budswell again; the collection is untouched.".into(),
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
            Error::Stale { .. } => (StatusCode::CONFLICT, "Changed meanwhile"),
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
            Answer::See(path) => Redirect::to(&path).into_response(),
            Answer::No { status, title, why, typed } => {
                let page = Message { here: "", title, why: &why, typed: &typed }.render();
                (status, Html(page.unwrap_or(why))).into_response()
            }
        }
    }
}
