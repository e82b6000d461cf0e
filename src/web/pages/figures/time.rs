//! The card of the time a plan will take.

use crate::figures::time::{TimeFigures, names};
use crate::measure::{Unit, about_hours, hours};
use crate::web::components::{cautions, figure, folding, working};
use maud::{Markup, html};

pub(super) fn time(time: &TimeFigures, unit: Unit, base: &str) -> Markup {
    if time.work.is_empty() {
        return html! {};
    }
    let left = time.left.high > 0;
    folding(
        "time",
        "Time",
        html! { @if left { (about_hours(time.left.likely, true)) @if !time.not_known.is_empty() { ", as far as known" } } @else if time.logged > 0 { (hours(time.logged)) " logged" } },
        html! { a.button.quiet href=(format!("{base}/time")) { "Open" } },
        html! {
            @if left {
                div.figures {
                    (figure("Left to do", html! { (about_hours(time.left.likely, true)) }, html! {
                        @if time.left.low != time.left.high { (about_hours(time.left.low, false)) " to " (about_hours(time.left.high, true)) }
                        @if !time.not_known.is_empty() { @if time.left.low != time.left.high { ", " } "without " (names(&time.not_known)) }
                    }))
                }
            }
            @if let Some(outlook) = &time.outlook {
                div.outlook { @for sentence in &outlook.words { p { (sentence) } } }
            } @else if !time.not_known.is_empty() {
                p { "Not known yet: how long it takes to " (names(&time.not_known)) "." }
            }
            ul.lines { @for line in &time.work { li {
                span { (line.work.name()) @if let Some(amount) = line.amount { span.meta { ", " (amount.words(unit)) " " (line.of) } } }
                span.num { @if let Some(minutes) = line.expected { (about_hours(minutes.likely, true)) } @else { "–" } }
            } } }
            (cautions(&time.shown.cautions))
            (working(&time.shown))
        },
    )
}
