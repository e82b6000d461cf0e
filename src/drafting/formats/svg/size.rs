//! What one unit of a drawing is: width and height with a unit, the viewBox,
//! and drawings inside of drawings.

use crate::drafting::formats::{FileProblem, FileUnit};
use kurbo::{Affine, Size, Vec2};
use roxmltree::Node;
use std::str::FromStr;
use svgtypes::{Align, AspectRatio, Length, LengthUnit, ViewBox};

/// The attribute as written in the drawing, without blanks.
fn said<'a>(node: &Node<'a, '_>, name: &str) -> Option<&'a str> {
    node.attribute(name).map(str::trim).filter(|v| !v.is_empty())
}

pub(super) fn view_box(node: &Node<'_, '_>, line: usize) -> Result<Option<ViewBox>, FileProblem> {
    let Some(text) = said(node, "viewBox") else {
        return Ok(None);
    };
    match ViewBox::from_str(text) {
        Ok(b) if b.w.is_finite() && b.h.is_finite() && b.x.is_finite() && b.y.is_finite() => Ok(Some(b)),
        _ => Err(FileProblem::at(
            line,
            "viewBox must be four numbers, the last two more than nothing. Save the drawing again, with a page size.",
        )),
    }
}

/// A length in units of the drawing; of `whole` where it is in percent.
pub(super) fn length(node: &Node<'_, '_>, name: &str, whole: f64) -> Result<Option<f64>, String> {
    let Some(text) = said(node, name) else { return Ok(None) };
    let wrong = || {
        format!(
            "has {name}=“{}”, which is no length",
            text.chars().take(40).collect::<String>()
        )
    };
    let length = Length::from_str(text).map_err(|_| wrong())?;
    let number = match length.unit {
        LengthUnit::Percent => length.number / 100.0 * whole,
        LengthUnit::Em | LengthUnit::Ex => {
            return Err(format!(
                "has {name}=“{text}”, measured in letters. Give it in mm, cm or in"
            ));
        }
        LengthUnit::None => length.number,
        unit => length.number * millimetres(unit) / FileUnit::Pixel.millimetres(),
    };
    if number.is_finite() {
        Ok(Some(number))
    } else {
        Err(wrong())
    }
}

fn millimetres(unit: LengthUnit) -> f64 {
    match unit {
        LengthUnit::Mm => 1.0,
        LengthUnit::Cm => 10.0,
        LengthUnit::In => 25.4,
        LengthUnit::Pt => 25.4 / 72.0,
        LengthUnit::Pc => 25.4 / 6.0,
        _ => FileUnit::Pixel.millimetres(),
    }
}

/// From the outermost drawing's units to millimetres, the size of its viewport in its own
/// units, and what must be said about it.
pub(super) fn outermost(
    root: &Node<'_, '_>,
    line: usize,
    typed: Option<FileUnit>,
) -> Result<(Affine, Size, Option<String>), FileProblem> {
    let view = view_box(root, line)?;
    let plain = Size::new(0.0, 0.0);
    let within = view.as_ref().map_or(plain, |b| Size::new(b.w, b.h));
    let from = view.as_ref().map_or(Vec2::ZERO, |b| Vec2::new(b.x, b.y));
    if let Some(unit) = typed {
        let scale = Affine::scale(unit.millimetres()) * Affine::translate(-from);
        return Ok((scale, within, None));
    }
    let real = |name: &str| -> Result<Option<(f64, LengthUnit)>, FileProblem> {
        let Some(text) = said(root, name) else { return Ok(None) };
        let length = Length::from_str(text).ok().filter(|l| l.number.is_finite());
        let Some(length) = length else {
            let text: String = text.chars().take(40).collect();
            return Err(FileProblem::at(
                line,
                format!("{name}=“{text}” is no length. Save the drawing with its size in mm, cm or in."),
            ));
        };
        match length.unit {
            LengthUnit::None | LengthUnit::Percent | LengthUnit::Em | LengthUnit::Ex => Ok(None),
            unit => Ok(Some((length.number * millimetres(unit), unit))),
        }
    };
    let (width, height) = (real("width")?, real("height")?);
    let Some((_, unit)) = width.or(height) else {
        return Err(FileProblem::no_unit(
            "The drawing does not say how large it is: its width and height have no unit. Choose below what one unit of the file is, or save it again with its size in mm, cm or in.",
        ));
    };
    let positive = |l: Option<(f64, LengthUnit)>| l.is_none_or(|(mm, _)| mm > 0.0);
    if !positive(width) || !positive(height) {
        return Err(FileProblem::at(
            line,
            "width and height must be more than nothing. Save the drawing again with its real size.",
        ));
    }
    let notice = (unit == LengthUnit::Px).then(|| {
        "The drawing gives its size in pixels; a pixel is counted as 1/96 in. Compare one length, and choose another unit if it does not agree.".to_string()
    });
    let Some(view) = view else {
        let notice = notice.or_else(|| {
            Some("The drawing has no viewBox, so one unit in it is 1/96 in. Compare one length, and choose another unit if it does not agree.".into())
        });
        let size = Size::new(
            width.map_or(0.0, |(mm, _)| mm / FileUnit::Pixel.millimetres()),
            height.map_or(0.0, |(mm, _)| mm / FileUnit::Pixel.millimetres()),
        );
        return Ok((Affine::scale(FileUnit::Pixel.millimetres()), size, notice));
    };
    let across = width.map(|(mm, _)| mm / view.w);
    let down = height.map(|(mm, _)| mm / view.h);
    let (x, y) = scales(across.or(down).unwrap_or(1.0), down.or(across).unwrap_or(1.0), root);
    Ok((
        Affine::scale_non_uniform(x, y) * Affine::translate(-from),
        within,
        notice,
    ))
}

/// Both ways alike, but where the drawing says it may be stretched.
fn scales(x: f64, y: f64, node: &Node<'_, '_>) -> (f64, f64) {
    let fit = fit(node);
    let one = if fit.slice { x.max(y) } else { x.min(y) };
    if fit.align == Align::None { (x, y) } else { (one, one) }
}

fn fit(node: &Node<'_, '_>) -> AspectRatio {
    said(node, "preserveAspectRatio")
        .and_then(|text| AspectRatio::from_str(text).ok())
        .unwrap_or(AspectRatio {
            defer: false,
            align: Align::XMidYMid,
            slice: false,
        })
}

/// Where a drawing inside a drawing lies, and the size of its viewport in its own
/// units; of a linked copy `by`, which may give another width and height.
pub(super) fn inside(
    node: &Node<'_, '_>,
    line: usize,
    outer: Size,
    by: Option<&Node<'_, '_>>,
) -> Result<(Affine, Size), FileProblem> {
    let told = |e: String| {
        FileProblem::at(
            line,
            format!("The drawing inside {e}. Write its place in plain numbers."),
        )
    };
    let x = length(node, "x", outer.width).map_err(told)?.unwrap_or(0.0);
    let y = length(node, "y", outer.height).map_err(told)?.unwrap_or(0.0);
    let side = |name: &str, whole: f64| -> Result<f64, FileProblem> {
        let other = by
            .map(|copy| length(copy, name, whole))
            .transpose()
            .map_err(told)?
            .flatten();
        let own = || length(node, name, whole).map_err(told);
        Ok(match other {
            Some(side) => side,
            None => own()?.unwrap_or(whole),
        })
    };
    let (width, height) = (side("width", outer.width)?, side("height", outer.height)?);
    let to = Affine::translate((x, y));
    let Some(view) = view_box(node, line)? else {
        return Ok((to, Size::new(width, height)));
    };
    let (sx, sy) = match (width > 0.0, height > 0.0) {
        (true, true) => (width / view.w, height / view.h),
        (true, false) => (width / view.w, width / view.w),
        (false, true) => (height / view.h, height / view.h),
        (false, false) => (1.0, 1.0),
    };
    let (sx, sy) = scales(sx, sy, node);
    let (left, top) = spare(fit(node).align, width - view.w * sx, height - view.h * sy);
    Ok((
        to * Affine::translate((left.max(0.0), top.max(0.0)))
            * Affine::scale_non_uniform(sx, sy)
            * Affine::translate((-view.x, -view.y)),
        Size::new(view.w, view.h),
    ))
}

/// How what is left free is shared out.
fn spare(align: Align, across: f64, down: f64) -> (f64, f64) {
    let x = match align {
        Align::None | Align::XMinYMin | Align::XMinYMid | Align::XMinYMax => 0.0,
        Align::XMidYMin | Align::XMidYMid | Align::XMidYMax => across / 2.0,
        Align::XMaxYMin | Align::XMaxYMid | Align::XMaxYMax => across,
    };
    let y = match align {
        Align::None | Align::XMinYMin | Align::XMidYMin | Align::XMaxYMin => 0.0,
        Align::XMinYMid | Align::XMidYMid | Align::XMaxYMid => down / 2.0,
        Align::XMinYMax | Align::XMidYMax | Align::XMaxYMax => down,
    };
    (x, y)
}
