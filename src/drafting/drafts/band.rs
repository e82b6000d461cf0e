//! Straight bands, folded or not, and ties. Both lie along the grain.

use super::{COUNT, Drawing, LARGEST, Made, Measures, count, part};
use crate::measure::Length;
use crate::plan::{Band, Tie};
use kurbo::{BezPath, Point};

pub(in crate::drafting) fn band(band: &Band, mut m: Measures) -> Made {
    let length = m.positive("length", "The band's length", band.length, LARGEST);
    let width = m.positive("width", "The band's width", band.width, Length::whole_mm(1_000));
    let overlap = m.between(
        "overlap",
        "The overlap",
        band.overlap,
        Length::ZERO,
        Length::whole_mm(1_000),
    );
    count(&mut m, "count", "The number of bands", band.count, COUNT);
    let seam = m.seam;
    m.end(|| {
        let wide = if band.folded { width * 2.0 } else { width };
        let long = length + overlap;
        let mut d = Drawing::from(Point::ZERO);
        d.line(wide, 0.0)
            .seam("end", seam)
            .line(wide, long)
            .seam("long edge", seam)
            .line(0.0, long)
            .seam("far end", seam)
            .line(0.0, 0.0)
            .seam("other long edge", seam);
        if band.folded {
            d.inner("fold", &upright(width, long));
        }
        if overlap > 0.0 {
            d.notch("long edge", length).notch("other long edge", overlap);
        }
        vec![part("band", "Band", band.count, false, &mut d)]
    })
}

pub(in crate::drafting) fn tie(tie: &Tie, mut m: Measures) -> Made {
    let length = m.positive("length", "The tie's length", tie.length, LARGEST);
    let width = m.positive("width", "The tie's width", tie.width, Length::whole_mm(1_000));
    let slant = m.between("point", "The slant of its end", tie.point, Length::ZERO, LARGEST);
    count(&mut m, "count", "The number of ties", tie.count, COUNT);
    if m.sound() && slant > length / 2.0 {
        let most = m.show_most(length / 2.0);
        m.wrong(
            "point",
            format!(
                "A slant of {} is more than half of the tie. Type at most {most}.",
                m.show(tie.point)
            ),
        );
    }
    let seam = m.seam;
    m.end(|| {
        let wide = width * 2.0;
        let mut d = Drawing::from(Point::ZERO);
        d.line(wide, 0.0).seam("end", seam);
        d.line(wide, length - slant).seam("right side", seam);
        if slant > 0.0 {
            d.line(width, length).seam("right slant", seam);
            d.line(0.0, length - slant).seam("left slant", seam);
        } else {
            d.line(0.0, length).seam("far end", seam);
        }
        d.line(0.0, 0.0).seam("left side", seam);
        d.inner("fold", &upright(width, length));
        vec![part("tie", "Tie", tie.count, false, &mut d)]
    })
}

fn upright(x: f64, y: f64) -> BezPath {
    let mut line = BezPath::new();
    line.move_to((x, 0.0));
    line.line_to((x, y));
    line
}
