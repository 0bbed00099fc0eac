//! The guard at the door: this machine's own pages only, no foreign writes, nothing loaded from elsewhere.

use axum::{
    extract::Request,
    http::{HeaderMap, HeaderName, HeaderValue, Method, StatusCode, header},
    middleware::Next,
    response::{IntoResponse, Response},
};

const POLICY: &str = "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; connect-src 'self'; \
                      form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

/// Lets a request in if it names this machine and, when it writes, comes from our own pages.
pub async fn guard(request: Request, next: Next) -> Response {
    let headers = request.headers();
    if !names_this_machine(headers) {
        return refuse("this server answers only to localhost");
    }
    let writes = !matches!(*request.method(), Method::GET | Method::HEAD);
    if writes && !comes_from_here(headers) {
        return refuse("a page from elsewhere may not write here");
    }
    let mut response = next.run(request).await;
    let set = [
        (header::CONTENT_SECURITY_POLICY, POLICY),
        (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
        (header::REFERRER_POLICY, "same-origin"),
        (HeaderName::from_static("cross-origin-opener-policy"), "same-origin"),
    ];
    for (name, value) in set {
        response.headers_mut().insert(name, HeaderValue::from_static(value));
    }
    response
}

fn refuse(why: &'static str) -> Response {
    (StatusCode::FORBIDDEN, why).into_response()
}

fn text(headers: &HeaderMap, name: HeaderName) -> Option<&str> {
    headers.get(name)?.to_str().ok()
}

/// The host without its port.
fn bare(host: &str) -> &str {
    match host.rsplit_once(':') {
        Some((name, port)) if port.bytes().all(|byte| byte.is_ascii_digit()) => name,
        _ => host,
    }
}

fn names_this_machine(headers: &HeaderMap) -> bool {
    text(headers, header::HOST).is_some_and(|host| matches!(bare(host), "localhost" | "127.0.0.1" | "[::1]"))
}

fn comes_from_here(headers: &HeaderMap) -> bool {
    let site = text(headers, HeaderName::from_static("sec-fetch-site"));
    if site.is_some_and(|site| site != "same-origin" && site != "none") {
        return false;
    }
    match (text(headers, header::ORIGIN), text(headers, header::HOST)) {
        (Some(origin), Some(host)) => origin.strip_prefix("http://") == Some(host),
        _ => true,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn with(pairs: &[(&'static str, &'static str)]) -> HeaderMap {
        let pair = |&(name, value)| (HeaderName::from_static(name), HeaderValue::from_static(value));
        pairs.iter().map(pair).collect()
    }

    #[test]
    fn only_this_machine_is_answered() {
        for (host, answered) in [
            ("localhost:4730", true),
            ("127.0.0.1", true),
            ("trees.example", false),
            ("localhost.example:80", false),
        ] {
            assert_eq!(names_this_machine(&with(&[("host", host)])), answered, "{host}");
        }
        assert!(!names_this_machine(&HeaderMap::new()));
    }

    #[test]
    fn a_page_from_elsewhere_cannot_write() {
        let host = ("host", "localhost:4730");
        assert!(comes_from_here(&with(&[host, ("origin", "http://localhost:4730")])));
        assert!(!comes_from_here(&with(&[host, ("origin", "https://elsewhere.example")])));
        assert!(!comes_from_here(&with(&[host, ("origin", "null")])));
        assert!(!comes_from_here(&with(&[host, ("sec-fetch-site", "cross-site")])));
    }
}
