//! Boxes that may lie askew: how deep two of them lie in each other.

pub type Point = (f64, f64);

/// The corners of a box, in order round it.
pub type Quad = [Point; 4];

/// The upright box round some points: least and greatest.
pub fn hull(points: impl IntoIterator<Item = Point>) -> (Point, Point) {
    let wide = ((f64::MAX, f64::MAX), (f64::MIN, f64::MIN));
    points.into_iter().fold(wide, |(least, most), it| {
        ((least.0.min(it.0), least.1.min(it.1)), (most.0.max(it.0), most.1.max(it.1)))
    })
}

/// Whether two upright boxes touch.
pub fn touch(one: (Point, Point), other: (Point, Point)) -> bool {
    one.0.0 <= other.1.0 && other.0.0 <= one.1.0 && one.0.1 <= other.1.1 && other.0.1 <= one.1.1
}

/// How far one convex shape has to be moved, at least, so that it leaves the other; below zero it is the gap
/// on the widest parting direction. The directions across all sides tell it (separating axis theorem).
pub fn depth(one: &[Point], other: &[Point]) -> f64 {
    let sides = |shape: &[Point]| -> Vec<Point> {
        let next = shape.iter().cycle().skip(1);
        shape.iter().zip(next).map(|(a, b)| (a.1 - b.1, b.0 - a.0)).collect()
    };
    let mut least = f64::MAX;
    for (x, y) in sides(one).into_iter().chain(sides(other)) {
        let length = (x * x + y * y).sqrt();
        if length < 1e-9 {
            continue;
        }
        let span = |shape: &[Point]| {
            let along = shape.iter().map(|it| (it.0 * x + it.1 * y) / length);
            along.fold((f64::MAX, f64::MIN), |(a, b), it| (a.min(it), b.max(it)))
        };
        let (a, b) = (span(one), span(other));
        least = least.min((a.1 - b.0).min(b.1 - a.0));
    }
    least
}

/// How deep a straight line lies in a convex shape: how far it has to be moved to leave it.
pub fn crossing(shape: &Quad, from: Point, to: Point) -> f64 {
    depth(shape, &[from, to])
}

#[test]
fn boxes_lie_as_deep_in_each_other_as_reckoned_by_hand() {
    let square = |x: f64, y: f64| [(x, y), (x + 2.0, y), (x + 2.0, y + 2.0), (x, y + 2.0)];
    let near = |one: f64, other: f64| assert!((one - other).abs() < 1e-9, "{one} {other}");
    near(depth(&square(0.0, 0.0), &square(1.5, 0.3)), 0.5);
    near(depth(&square(0.0, 0.0), &square(5.0, 0.0)), -3.0);
    // A square on its corner, half a diagonal of √2 wide, whose corner reaches 0.2 into the side.
    let tip = 2.0_f64.sqrt();
    let askew =
        [(1.8, 1.0), (1.8 + tip, 1.0 - tip), (1.8 + 2.0 * tip, 1.0), (1.8 + tip, 1.0 + tip)];
    near(depth(&square(0.0, 0.0), &askew), 0.2);
    near(crossing(&square(0.0, 0.0), (-1.0, 0.5), (3.0, 0.5)), 0.5);
    assert!(crossing(&square(0.0, 0.0), (-1.0, 2.5), (3.0, 2.5)) < 0.0);
    // A line that ends before the box does not cross it.
    assert!(crossing(&square(0.0, 0.0), (-3.0, 0.5), (-1.0, 0.5)) < 0.0);
}
