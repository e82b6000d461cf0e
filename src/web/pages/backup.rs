//! A backup by the browser of the computer the notebook is on, and the
//! reminder to make one.

use crate::notebook::{self, Notebook, NotebookError};
use crate::web::app::App;
use crate::web::error::{Answer, WebError};
use crate::web::visitor::Visitor;
use actix_files::NamedFile;
use actix_web::http::header;
use actix_web::web::{Data, ReqData, ServiceConfig, post, resource};
use actix_web::{HttpRequest, HttpResponse};
use chrono::{DateTime, Local, Utc};
use maud::{Markup, html};

pub fn routes(config: &mut ServiceConfig) {
    config.service(resource("/settings/backup").route(post().to(make)));
}

/// Days after which a backup is old.
const OLD: i64 = 14;

/// Everything in one file. A device that was let in may read and write the
/// notebook, but not carry all of it away.
async fn make(request: HttpRequest, app: Data<App>, visitor: ReqData<Visitor>) -> Answer {
    if !visitor.is_computer() {
        return Err(WebError::Elsewhere);
    }
    let (file, problems) = app
        .ask(move |n: &Notebook| {
            let aside = tempfile::tempdir()?;
            let path = aside.path().join("notebook.zip");
            let done = notebook::back_up(n.folder(), &path)?;
            // Open, it outlives its name: nothing is left lying about.
            Ok((std::fs::File::open(&path)?, done.problems))
        })
        .await?;
    for problem in problems {
        tracing::warn!("backup: {problem}");
    }
    let name = format!("notchbook-{}.zip", Local::now().format("%Y-%m-%d-%H%M"));
    let file = NamedFile::from_file(file, &name).map_err(|e| WebError::Notebook(NotebookError::File(e)))?;
    let mut answer: HttpResponse = file.into_response(&request);
    let headers = answer.headers_mut();
    headers.insert(header::CACHE_CONTROL, header::HeaderValue::from_static("no-store"));
    let disposition = format!("attachment; filename=\"{name}\"");
    if let Ok(value) = header::HeaderValue::from_str(&disposition) {
        headers.insert(header::CONTENT_DISPOSITION, value);
    }
    Ok(answer)
}

/// What is wrong with the notebook's files, on top of the first page.
pub fn damage(problems: &[String]) -> Markup {
    html! {
        @if !problems.is_empty() {
            section.errors role="alert" {
                h2 { "This notebook is damaged" }
                p { "A failing disk or another program did this. Write nothing important now: stop the program, make a copy of the whole folder, \
                     then run " code { "notchbook restore FILE --folder NEW-FOLDER" } " with your newest backup." }
                ul { @for problem in problems { li { (problem) } } }
            }
        }
    }
}

/// When the last one was made, and a button for another.
pub fn backup_part(last: Option<DateTime<Utc>>, visitor: &Visitor) -> Markup {
    html! {
        p { (last_words(last)) }
        @if visitor.is_computer() {
            form method="post" action="/settings/backup" { button.button type="submit" { "Make a backup now" } }
            p.hint { "One file with everything in it, checked before it is handed over. Put it on another disk. "
                code { "notchbook restore FILE --folder NEW-FOLDER" } " goes back to it; " code { "notchbook backup FILE" } " makes one without the browser." }
        } @else {
            p.hint { "A backup is made on the computer the notebook is on." }
        }
    }
}

fn last_words(last: Option<DateTime<Utc>>) -> String {
    match last {
        None => "No backup was made yet.".into(),
        Some(at) => format!(
            "The last backup was made on {}.",
            at.with_timezone(&Local).format("%-d %B %Y")
        ),
    }
}

/// For the first page: calm, and only where there is something to lose.
pub fn reminder(last: Option<DateTime<Utc>>, now: DateTime<Utc>) -> Option<String> {
    match last {
        None => Some("This notebook has no backup yet.".into()),
        Some(at) => {
            let days = (now - at).num_days();
            (days > OLD).then(|| format!("The last backup is {days} days old."))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use chrono::TimeDelta;

    #[test]
    fn a_backup_older_than_two_weeks_is_brought_to_mind() {
        let now: DateTime<Utc> = "2026-11-25T10:00:00Z".parse().unwrap();
        let days = |n| reminder(Some(now - TimeDelta::days(n)), now);
        assert!(reminder(None, now).unwrap().contains("no backup"));
        assert_eq!((days(0), days(14)), (None, None));
        assert!(days(15).unwrap().contains("15 days"));
        // A clock set back is no reason to nag.
        assert_eq!(days(-3), None);
    }
}
