//! How units are set: straight or on point, with or without sashing.

use super::form::cloth_options;
use crate::measure::Unit as System;
use crate::plan::{ClothKind, OnPoint, Patchwork, Plan, Sashing};
use crate::web::components::{choice, length_input, switch};
use crate::web::form::{NAME, Reader, Shown, Typed, length_text};
use maud::{Markup, html};

const FIELDS: [&str; 5] = ["side_cloth", "corner_cloth", "sash_width", "sash_cloth", "sash_posts"];

pub fn fields(form: &Shown, plan: &Plan) -> Markup {
    let cloths = cloth_options(plan, ClothKind::Cloth, "Choose a cloth");
    let used = form.typed.ticked("on_point") || form.typed.ticked("sashed");
    let wrong = FIELDS.iter().any(|f| form.errors.has(f));
    html! {
        details.not-in-rows.more-of-face open[used || wrong] {
            summary { "On point, sashing" }
            (switch(form, "on_point", "On point", "Units stand on a corner; triangles fill the edge."))
            div.when-on-point.positions {
                (choice(form, "side_cloth", "Side triangles", "", &cloths))
                (choice(form, "corner_cloth", "Corner triangles", "", &cloths))
            }
            (switch(form, "sashed", "Sashing between the units", ""))
            div.when-sashed {
                (length_input(form, "sash_width", "Finished width", ""))
                div.positions {
                    (choice(form, "sash_cloth", "Cloth", "", &cloths))
                    (choice(form, "sash_posts", "Posts", "Where strips cross. Without, level strips run through; on point it takes posts.", &cloth_options(plan, ClothKind::Cloth, "none")))
                }
                (switch(form, "sash_around", "Also round the outside", ""))
            }
        }
    }
}

pub fn fill(typed: &mut Typed, face: &Patchwork, system: System) {
    if let Some(setting) = &face.on_point {
        typed.set("on_point", "yes");
        typed.set("side_cloth", &setting.side);
        typed.set("corner_cloth", &setting.corner);
    }
    if let Some(sashing) = &face.sashing {
        typed.set("sashed", "yes");
        typed.set("sash_width", length_text(sashing.width, system));
        typed.set("sash_cloth", &sashing.cloth);
        typed.set("sash_posts", sashing.posts.clone().unwrap_or_default());
        if sashing.around {
            typed.set("sash_around", "yes");
        }
    }
}

pub fn read(r: &mut Reader, face: &mut Patchwork) {
    if r.typed.ticked("on_point") {
        face.on_point = Some(OnPoint {
            side: r.required("side_cloth", NAME, "Choose the cloth of the side triangles."),
            corner: r.required("corner_cloth", NAME, "Choose the cloth of the corner triangles."),
        });
    }
    if r.typed.ticked("sashed") {
        face.sashing = Some(Sashing {
            width: r.length_positive("sash_width"),
            cloth: r.required("sash_cloth", NAME, "Choose the cloth of the sashing."),
            posts: Some(r.line("sash_posts", NAME)).filter(|c| !c.is_empty()),
            around: r.typed.ticked("sash_around"),
        });
    }
}
