//! Measuring on a photo, held against OpenCV and against photos drawn with a
//! known camera.

use crate::dice::Dice;
use kurbo::{Point, Vec2};
use notchbook::drafting::trace::{Grey, Homography, Marks, TAP, places, snapped};
use notchbook::measure::Length;

/// opencv-python-headless 5.0.0, findHomography with method 0 and
/// perspectiveTransform: marks as [photo x, photo y, table x, table y], seen by a
/// camera of 4000 x 3000 pixels with taps off by 1.5 pixels, and other points of
/// the photo with the places OpenCV gives them on the table, in millimetres.
const OPENCV: &str = include_str!("homographies.json");

#[derive(serde::Deserialize)]
struct Case {
    marks: Vec<[f64; 4]>,
    points: Vec<[f64; 4]>,
}

#[test]
fn opencv_puts_every_point_in_the_same_place() {
    let cases: Vec<Case> = serde_json::from_str(OPENCV).expect("the table");
    assert_eq!(cases.len(), 20);
    for (n, case) in cases.iter().enumerate() {
        let marks: Vec<(Point, Point)> = case
            .marks
            .iter()
            .map(|m| (Point::new(m[0], m[1]), Point::new(m[2], m[3])))
            .collect();
        let h = Homography::from_marks(&marks).unwrap_or_else(|e| panic!("case {n}: {e}"));
        // Numbers are such as single precision holds, which OpenCV counts in.
        // Four marks fix it: to the printed digits. More are fitted: both stop
        // a little beside the least sum of squares.
        let close = if marks.len() == 4 { 5e-6 } else { 1e-4 };
        for p in &case.points {
            let here = h.on_table(Point::new(p[0], p[1])).expect("on the table");
            let there = Point::new(p[2], p[3]);
            assert!(
                here.distance(there) < close,
                "case {n} of {}: {here:?} {there:?}",
                marks.len()
            );
            assert!(h.on_photo(here).distance(Point::new(p[0], p[1])) < 1e-6);
        }
    }
}

/// A camera of 12 megapixels, focal length 0.74 of the width, over a table.
struct Camera {
    tilt: f64,
    turn: f64,
    above: f64,
    middle: Point,
}

impl Camera {
    const WIDTH: f64 = 4000.0;
    const HEIGHT: f64 = 3000.0;

    fn sees(&self, table: Point) -> Point {
        let d = table - self.middle;
        let (s, c) = self.turn.sin_cos();
        let (x, y) = (c * d.x - s * d.y, s * d.x + c * d.y);
        let (s, c) = self.tilt.sin_cos();
        let (y, z) = (c * y, s * y + self.above);
        let f = 0.74 * Camera::WIDTH;
        Point::new(Camera::WIDTH / 2.0 + f * x / z, Camera::HEIGHT / 2.0 + f * y / z)
    }
}

fn near(dice: &mut Dice, p: Point, off: f64) -> Point {
    p + Vec2::new(dice.normal(), dice.normal()) * off
}

const MARKS: Marks = Marks::Rectangle {
    width: Length::whole_mm(660),
    height: Length::whole_mm(500),
};

/// Errors of 600 mm between two tapped ends, in millimetres, largest last.
fn errors(tilt: f64, off_marks: f64, off_ends: f64) -> (Vec<f64>, f64) {
    let mut dice = Dice(0x5eed);
    let real = places(&MARKS).expect("a rectangle");
    let mut errors = Vec::new();
    let mut told = 0.0;
    for _ in 0..2_000 {
        let camera = Camera {
            tilt,
            turn: dice.even() * std::f64::consts::TAU,
            above: 1_100.0,
            middle: Point::new(330.0, 250.0),
        };
        let marks = real.map(|p| (near(&mut dice, camera.sees(p), off_marks), p));
        let h = Homography::from_marks(&marks).expect("four marks");
        let (a, b) = (Point::new(30.0, 250.0), Point::new(630.0, 250.0));
        let (length, band) = h
            .length(
                near(&mut dice, camera.sees(a), off_ends),
                near(&mut dice, camera.sees(b), off_ends),
                TAP,
            )
            .expect("on the table");
        errors.push((length - 600.0).abs());
        told += band / 2_000.0;
    }
    errors.sort_by(f64::total_cmp);
    (errors, told)
}

/// The bar is own: 2 mm in 19 photos of 20, on 600 mm, with four marks round the
/// piece, ends tapped and marks brought to their crossings (to 0.3 pixels, which
/// the test below holds); within 2.3 mm where marks are tapped too.
#[test]
fn six_hundred_millimetres_are_measured_within_two() {
    for tilt in [0.0f64, 10.0, 20.0, 35.0] {
        let (snapped, _) = errors(tilt.to_radians(), 0.3, 1.5);
        let at_95 = snapped[snapped.len() * 95 / 100];
        assert!(at_95 <= 2.0, "tilt {tilt}: {at_95}");
        let (tapped, told) = errors(tilt.to_radians(), 1.5, 1.5);
        let at_95 = tapped[tapped.len() * 95 / 100];
        assert!(at_95 <= 2.3, "tilt {tilt}: {at_95}");
        // What the program says of its own error is what it is.
        assert!(
            (told / at_95 - 1.0).abs() < 0.12,
            "tilt {tilt}: {told} said, {at_95} found"
        );
    }
}

/// The part of a photo round a printed mark: two black quarters that meet, on
/// paper, with grain; every pixel the mean of sixteen places of the table.
fn photo_of_mark(camera: &Camera, mark: Point, corner: Point, dice: &mut Dice) -> Vec<u8> {
    // From the photo back to the table: by four marks exactly where they are.
    let real = places(&MARKS).expect("a rectangle");
    let h = Homography::from_marks(&real.map(|p| (camera.sees(p), p))).expect("four marks");
    let mut pixels = Vec::new();
    for y in 0..120 {
        for x in 0..120 {
            let mut dark = 0.0;
            for s in 0..16 {
                let at = corner
                    + Vec2::new(
                        f64::from(x) - 0.5 + (f64::from(s % 4) + 0.5) / 4.0,
                        f64::from(y) - 0.5 + (f64::from(s / 4) + 0.5) / 4.0,
                    );
                let d = h.on_table(at).expect("on the table") - mark;
                if d.x * d.y > 0.0 && d.x.abs() < 12.0 && d.y.abs() < 12.0 {
                    dark += 1.0 / 16.0;
                }
            }
            pixels.push((205.0 - 160.0 * dark + 4.0 * dice.normal()).clamp(0.0, 255.0) as u8);
        }
    }
    pixels
}

#[test]
fn taps_beside_printed_marks_come_to_a_third_of_a_pixel() {
    let mut dice = Dice(7);
    for n in 0..12 {
        let camera = Camera {
            tilt: f64::from(n) * 3f64.to_radians(),
            turn: dice.even() * std::f64::consts::TAU,
            above: 1_100.0,
            middle: Point::new(330.0, 250.0),
        };
        for mark in places(&MARKS).expect("a rectangle") {
            let true_place = camera.sees(mark);
            let corner = Point::new(true_place.x.round() - 60.0, true_place.y.round() - 60.0);
            let pixels = photo_of_mark(&camera, mark, corner, &mut dice);
            let grey = Grey {
                width: 120,
                height: 120,
                pixels: &pixels,
            };
            let tap = true_place - corner
                + Vec2::new(
                    8.0 * dice.normal().clamp(-1.5, 1.5),
                    8.0 * dice.normal().clamp(-1.5, 1.5),
                );
            let found = snapped(&grey, tap.to_point(), 24.0).expect("a crossing");
            let off = found.distance((true_place - corner).to_point());
            assert!(off < 0.3, "photo {n}: {off}");
        }
    }
}
