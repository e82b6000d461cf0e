use crate::common::*;
use notchbook::notebook::{LineChoice, NotebookError};

fn choice(key: &str, shown: bool) -> LineChoice {
    LineChoice {
        key: key.into(),
        shown,
        remark: format!("about {key}"),
        substitute: format!("instead of {key}"),
        paid: shown,
    }
}

#[test]
fn choices_are_kept_in_their_order() {
    let f = fresh();
    let n = &f.notebook;
    let id = f.project("Moss waistcoat");
    assert!(n.choices(id).unwrap().is_empty());
    let first = [choice("pattern", true), choice("cloth/c1", false)];
    assert_eq!(n.save_choices(id, 0, &first).unwrap(), 1);
    assert_eq!(n.choices(id).unwrap(), first);
    let second = [choice("notion/n1", true)];
    assert_eq!(n.save_choices(id, 1, &second).unwrap(), 2);
    assert_eq!(n.save_choices(id, 1, &second).unwrap(), 2, "sent twice");
    assert_eq!(n.earlier_choices(id).unwrap(), [first.to_vec(), vec![]]);
    assert_eq!(n.choices(id).unwrap(), second);
    let twice = [choice("pattern", true), choice("pattern", false)];
    assert_eq!(refused_field(n.save_choices(id, 2, &twice)), "choices");
    assert_eq!(n.choices(id).unwrap(), second);
    // Begun from what is no longer there: nothing is changed.
    let stale = n.save_choices(id, 1, &[choice("thread", true)]);
    assert!(matches!(stale, Err(NotebookError::Stale(_))), "{stale:?}");
    assert_eq!(n.choices(id).unwrap(), second);
    assert!(is_not_found(n.choices(new_id())));
}

#[test]
fn a_link_shows_its_project_until_it_is_revoked() {
    let f = fresh();
    let n = &f.notebook;
    let id = f.project("Moss waistcoat");
    assert_eq!(n.share(id).unwrap(), None);
    let share = n.make_share(id).unwrap();
    // 32 random bytes are 43 characters of base64.
    assert_eq!(share.token.len(), 43);
    assert!(
        share
            .token
            .bytes()
            .all(|b| b.is_ascii_alphanumeric() || b"-_".contains(&b))
    );
    assert_eq!(n.make_share(id).unwrap(), share, "pressed twice");
    assert_eq!(n.share(id).unwrap(), Some(share.clone()));
    assert_eq!(n.shared(&share.token).unwrap().project, id);
    for wrong in [
        "",
        "x",
        &share.token[..42],
        &share.token.to_lowercase(),
        &"A".repeat(43),
    ] {
        assert!(is_not_found(n.shared(wrong)), "{wrong}");
    }
    let other = f.project("Fern waistcoat");
    assert_ne!(n.make_share(other).unwrap().token, share.token);

    n.bin_project(id).unwrap();
    assert!(is_not_found(n.shared(&share.token)));
    n.restore_project(id).unwrap();
    assert_eq!(n.shared(&share.token).unwrap().project, id);

    n.revoke_share(id).unwrap();
    n.revoke_share(id).unwrap();
    assert!(is_not_found(n.shared(&share.token)));
    assert_eq!(n.share(id).unwrap(), None);
    let new = n.make_share(id).unwrap();
    assert_ne!(new.token, share.token);
    assert!(is_not_found(n.shared(&share.token)));
    assert_eq!(n.shared(&new.token).unwrap().project, id);
}
