//! Errors as pages: a sentence, what to do, a way back.

use super::page;
use crate::notebook::NotebookError;
use actix_web::http::StatusCode;
use actix_web::{HttpResponse, ResponseError};
use maud::html;

#[derive(Debug, thiserror::Error)]
pub enum WebError {
    #[error(transparent)]
    Notebook(#[from] NotebookError),
    #[error("There is no page with this address.")]
    NoPage,
    /// Reloaded, or come back to after the browser was closed.
    #[error("This address takes what a form sends, and shows nothing by itself.")]
    FormsOnly,
    #[error("{0}")]
    Refused(String),
    /// For the computer the notebook is on, and asked from another device.
    #[error("This is done on the computer the notebook is on.")]
    Elsewhere,
    /// A sheet that could not be made into a file.
    #[error("{0}")]
    NotWritten(String),
    #[error("The notebook is busy. Try again in a moment.")]
    Busy,
    #[error("That was asked for very often just now. Wait a minute, then load the page again.")]
    TooOften,
    /// A ready page with a form, errors beside its fields and what was typed kept.
    #[error("The form has errors.")]
    Form(maud::Markup),
}

pub type Answer = Result<HttpResponse, WebError>;

impl ResponseError for WebError {
    fn status_code(&self) -> StatusCode {
        match self {
            WebError::Notebook(NotebookError::NotFound(_)) | WebError::NoPage => StatusCode::NOT_FOUND,
            WebError::Notebook(NotebookError::Clash { .. } | NotebookError::Stale(_)) => StatusCode::CONFLICT,
            WebError::Notebook(NotebookError::Refused { .. }) | WebError::Form(_) => StatusCode::UNPROCESSABLE_ENTITY,
            WebError::FormsOnly => StatusCode::METHOD_NOT_ALLOWED,
            WebError::Refused(_) => StatusCode::BAD_REQUEST,
            WebError::Elsewhere => StatusCode::FORBIDDEN,
            WebError::Busy => StatusCode::SERVICE_UNAVAILABLE,
            WebError::TooOften => StatusCode::TOO_MANY_REQUESTS,
            WebError::Notebook(error) if error.is_full_disk() => StatusCode::INSUFFICIENT_STORAGE,
            WebError::Notebook(_) | WebError::NotWritten(_) => StatusCode::INTERNAL_SERVER_ERROR,
        }
    }

    fn error_response(&self) -> HttpResponse {
        if let WebError::Form(page) = self {
            return super::respond::page_with(self.status_code(), page.clone());
        }
        if self.status_code() == StatusCode::INTERNAL_SERVER_ERROR {
            tracing::error!(error = %self, "request failed");
        }
        if let WebError::Notebook(error) = self
            && error.is_damage()
        {
            let body = super::pages::damage(&[error.to_string()]);
            return super::respond::page_with(self.status_code(), page::plain("This notebook is damaged", body));
        }
        let full = self.status_code() == StatusCode::INSUFFICIENT_STORAGE;
        let title = match self.status_code() {
            StatusCode::INSUFFICIENT_STORAGE => "The disk is full",
            StatusCode::NOT_FOUND | StatusCode::METHOD_NOT_ALLOWED => "Not here",
            StatusCode::CONFLICT => "Changed meanwhile",
            StatusCode::FORBIDDEN => "Not from here",
            _ => "That did not work",
        };
        let body = html! {
            section.card {
                h1 { (title) }
                @if full {
                    p { "This was not saved: the disk the notebook is on is full. What was saved before is safe. Make room on it, then save again." }
                } @else {
                    p { (self) }
                }
                p { "What you typed is still in the form: go back with your browser's back button, or open the " a href="/" { "notebook" } "." }
            }
        };
        super::respond::page_with(self.status_code(), page::plain(title, body))
    }
}

impl From<actix_web::error::BlockingError> for WebError {
    fn from(_: actix_web::error::BlockingError) -> WebError {
        WebError::Busy
    }
}
