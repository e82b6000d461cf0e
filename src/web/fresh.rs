//! The ids forms carry from the moment they are shown, so that sending one
//! twice makes one thing. Two answers must never carry the same: the second
//! form filled in would be taken for the first sent again, and be lost. A page
//! that is kept in memory gets new ones each time it goes out.

use super::known::Weighed;
use crate::notebook::Id;
use actix_web::web::Bytes;
use std::cell::RefCell;
use std::future::Future;
use std::sync::Arc;

tokio::task_local! {
    static MADE: RefCell<Vec<Id>>;
}

/// A new id for a form on a page.
pub fn id() -> Id {
    let id = Id::now_v7();
    // Where nobody notes it, the page is not kept.
    let _ = MADE.try_with(|made| made.borrow_mut().push(id));
    id
}

/// Also says which ids were made for forms meanwhile.
pub async fn noting<F: Future>(work: F) -> (F::Output, Vec<Id>) {
    let noted = async {
        let done = work.await;
        (done, MADE.with(RefCell::take))
    };
    MADE.scope(RefCell::default(), noted).await
}

/// An id as it stands in a page.
const ID: usize = 36;

/// A page, and where ids of its forms stand.
pub struct Template {
    page: Bytes,
    /// Where each stands, in order, and which of them it is.
    places: Vec<(usize, usize)>,
    ids: usize,
}

impl Weighed for Arc<Template> {
    fn weight(&self) -> usize {
        self.page.len() + self.places.len() * size_of::<(usize, usize)>()
    }
}

impl Template {
    /// `made` are the ids that were made for the page's forms, `since` is when
    /// (in milliseconds since 1970) its making began. Nothing where an id as
    /// new as that stands in it and is not one of them: it may be a form's.
    pub fn of(page: Bytes, made: &[Id], since: u64) -> Option<Template> {
        let mut places = Vec::new();
        let mut at = 0;
        while let Some(text) = page.get(at..at + ID) {
            match id_in(text) {
                Some(found) => match made.iter().position(|id| *id == found) {
                    Some(which) => {
                        places.push((at, which));
                        at += ID;
                    }
                    None if is_as_new(&found, since) => return None,
                    None => at += ID,
                },
                None => at += 1,
            }
        }
        Some(Template {
            page,
            places,
            ids: made.len(),
        })
    }

    /// The page with ids nobody has seen yet.
    pub fn page(&self) -> Bytes {
        if self.places.is_empty() {
            return self.page.clone();
        }
        let mut page = self.page.to_vec();
        let ids: Vec<Id> = (0..self.ids).map(|_| Id::now_v7()).collect();
        for &(at, which) in &self.places {
            ids[which].as_hyphenated().encode_lower(&mut page[at..at + ID]);
        }
        page.into()
    }
}

fn id_in(text: &[u8]) -> Option<Id> {
    let dashed = [8, 13, 18, 23].iter().all(|at| text[*at] == b'-');
    dashed.then(|| Id::try_parse_ascii(text).ok()).flatten()
}

/// Made at that moment or later; an id that does not say when is not.
fn is_as_new(id: &Id, since: u64) -> bool {
    id.get_version_num() == 7
        && id.get_timestamp().is_some_and(|at| {
            let (seconds, nanos) = at.to_unix();
            seconds.saturating_mul(1000) + u64::from(nanos / 1_000_000) >= since
        })
}

#[cfg(test)]
mod tests {
    use super::*;
    use chrono::Utc;

    fn now() -> u64 {
        u64::try_from(Utc::now().timestamp_millis()).unwrap()
    }

    fn ids(page: &Bytes) -> Vec<Id> {
        let text = std::str::from_utf8(page).unwrap();
        text.split('"').filter_map(|part| Id::try_parse(part).ok()).collect()
    }

    #[tokio::test]
    async fn every_answer_has_ids_of_its_own() {
        let since = now();
        let kept = Id::from_u128(0x0192_0000_0000_7000_8000_0000_0000_0001);
        let (page, made) = noting(async {
            let (one, two) = (id(), id());
            format!("é \"{kept}\" \"{one}\" \"{two}\" and again \"{one}\"")
        })
        .await;
        let template = Template::of(page.clone().into(), &made, since).unwrap();
        let mut met = ids(&page.clone().into());
        for _ in 0..50 {
            let page = template.page();
            let [old, one, two, again] = ids(&page)[..] else {
                panic!("{page:?}")
            };
            assert_eq!((old, one), (kept, again), "what is no form's id stays");
            assert!(!met.contains(&one) && !met.contains(&two) && one != two);
            met.extend([one, two]);
            assert_eq!(page.len(), template.page.len());
        }
    }

    #[tokio::test]
    async fn a_page_with_an_id_nobody_noted_is_not_kept() {
        let since = now();
        let (page, made) = noting(async { format!("\"{}\" \"{}\"", id(), Id::now_v7()) }).await;
        assert!(Template::of(page.into(), &made, since).is_none());
        // Made by another task: nobody notes it there.
        let (page, made) = noting(async { tokio::spawn(async { id().to_string() }).await.unwrap() }).await;
        assert!(made.is_empty() && Template::of(page.into(), &made, since).is_none());
        let random = Id::from_u128(0x1b4e_28ba_2fa1_41d2_883f_0016_d3cc_a427);
        assert!(Template::of(random.to_string().into(), &[], since).is_some());
    }
}
