//! Drawing data → shapes on the page, as one element.
//!
//! A drawing has hundreds of points; a layout that walks them one by one takes longer over them than over all its words.

use std::fmt::Display;

use kurbo::{BezPath, PathEl};
use typst::syntax::Span;
use typst_library::World;
use typst_library::diag::{At, SourceResult, StrResult, bail};
use typst_library::engine::Engine;
use typst_library::foundations::{
    Args, Construct, Content, Dict, FromValue, NativeElement, Packed, Resolve, Smart, Str,
    StyleChain, Value, elem, func,
};
use typst_library::introspection::Locator;
use typst_library::layout::{
    Abs, BlockElem, Frame, FrameItem, Length, PlaceElem, Point, Region, Size,
};
use typst_library::visualize::{
    Color, Curve, FillRule, Geometry, LineCap, LineJoin, Paint, Shape, Stroke,
};

use super::paths;

/// What one is in a path, in mm.
const UNIT: f64 = 0.001;

/// Draws the shapes of a drawing over one another, each in its part's style, from the place where it is called; they take
/// no room.
///
/// The file at `path` holds, for each shape, its part and its path (SVG 1.1, 8.3: absolute moves, lines and cubic curves, in
/// thousandths of a millimetre, y down), with a semicolon between two shapes. Only a closed path is filled. A style has
/// a fill and a stroke, and may have a casing, the width of the white round a shape that parts it from what it lies on,
/// and an arrow at the end of its path.
#[func]
pub(super) fn draw_shapes(
    engine: &mut Engine<'_>,
    span: Span,
    /// Where the text stands.
    path: Str,
    /// The style of each part.
    styles: Dict,
    /// What a millimetre of the drawing takes on the page.
    scale: Length,
    /// What the shapes are moved to the left, on the page.
    left: Length,
    /// What the shapes are moved up, on the page.
    top: Length,
) -> SourceResult<Content> {
    let text = engine.world.file(paths::id(&path)).at(span)?;
    let text = text.as_str().map_err(|fault| said(&path, &fault)).at(span)?;
    let view = View { scale: scale.abs * UNIT, corner: Point::new(left.abs, top.abs) };
    let shapes = shapes(text, &styles, view).at(span)?;
    let drawing = Packed::new(DrawnElem::new(shapes)).spanned(span);
    Ok(PlaceElem::new(BlockElem::single_layouter(drawing, lay_out).pack()).pack())
}

/// Shapes as they lie on the page.
fn shapes(text: &str, styles: &Dict, view: View) -> StrResult<Vec<Drawn>> {
    let mut onto = Vec::new();
    for shape in text.split(';').filter(|it| !it.is_empty()) {
        let Some((part, path)) = shape.split_once(' ') else {
            bail!("a drawing has a shape without a path: {shape}");
        };
        let path = BezPath::from_svg(path).map_err(|fault| said(part, &fault))?;
        Style::of(styles, part)?.draw(&path, view, &mut onto)?;
    }
    Ok(onto)
}

/// The shapes of a drawing, ready for the page.
#[elem(Construct)]
struct DrawnElem {
    /// The shapes in the order they are drawn.
    #[required]
    #[internal]
    shapes: Vec<Drawn>,
}

impl Construct for DrawnElem {
    fn construct(_: &mut Engine<'_>, args: &mut Args) -> SourceResult<Content> {
        bail!(args.span, "a drawing is made by `draw-shapes`");
    }
}

/// A curve on the page, with what fills it and what goes round it.
#[derive(Debug, Clone, PartialEq, Hash)]
struct Drawn {
    curve: Curve,
    fill: Option<Paint>,
    stroke: Option<Stroke>,
}

/// Puts the shapes on a frame that takes no room.
#[expect(clippy::unnecessary_wraps, reason = "a layouter has this form")]
fn lay_out(
    drawing: &Packed<DrawnElem>,
    _: &mut Engine<'_>,
    _: Locator<'_>,
    styles: StyleChain<'_>,
    _: Region,
) -> SourceResult<Frame> {
    let mut frame = Frame::soft(Size::zero());
    for one in &drawing.shapes {
        let shape = Shape {
            geometry: Geometry::Curve(one.curve.clone()),
            fill: one.fill.clone(),
            fill_rule: FillRule::default(),
            stroke: one.stroke.clone().map(|it| it.resolve(styles).unwrap_or_default()),
        };
        frame.push(Point::zero(), FrameItem::Shape(shape, drawing.span()));
    }
    Ok(frame)
}

/// How a drawing lies on the page.
#[derive(Clone, Copy)]
struct View {
    scale: Abs,
    /// What is taken off each place: the drawing's own corner, on the page.
    corner: Point,
}

impl View {
    fn place(self, at: kurbo::Point) -> Point {
        Point::new(self.scale * at.x, self.scale * at.y) - self.corner
    }

    fn curve(self, path: &BezPath) -> StrResult<Curve> {
        let mut curve = Curve::new();
        for step in path.elements() {
            match *step {
                PathEl::MoveTo(to) => curve.move_(self.place(to)),
                PathEl::LineTo(to) => curve.line(self.place(to)),
                PathEl::CurveTo(one, other, to) => {
                    curve.cubic(self.place(one), self.place(other), self.place(to));
                }
                PathEl::QuadTo(..) => bail!("a drawing has a quadratic curve"),
                PathEl::ClosePath => curve.close(),
            }
        }
        Ok(curve)
    }
}

/// How a part looks.
struct Style {
    fill: Option<Paint>,
    stroke: Option<Stroke>,
    casing: Option<Length>,
    has_arrow: bool,
}

impl Style {
    fn of(styles: &Dict, part: &str) -> StrResult<Self> {
        let Ok(style) = styles.get(part) else {
            bail!("drawing names an unknown part: {part}");
        };
        let style: Dict = taken(style.clone())?;
        Ok(Self {
            fill: field(&style, "fill")?,
            stroke: field(&style, "stroke")?,
            casing: or_none(&style, "casing")?,
            has_arrow: or_none(&style, "arrow")?.unwrap_or(false),
        })
    }

    /// Adds a path in this style: its casing, itself, the head of its arrow.
    fn draw(&self, path: &BezPath, view: View, onto: &mut Vec<Drawn>) -> StrResult<()> {
        if path.segments().next().is_none() {
            return Ok(());
        }
        let curve = view.curve(path)?;
        if let Some(casing) = self.casing {
            onto.push(Drawn { curve: curve.clone(), fill: None, stroke: Some(self.cased(casing)) });
        }
        let is_closed = path.elements().last() == Some(&PathEl::ClosePath);
        let fill = if is_closed { self.fill.clone() } else { None };
        onto.push(Drawn { curve, fill, stroke: self.stroke.clone() });
        if self.has_arrow {
            onto.extend(arrow_head(path, view));
        }
        Ok(())
    }

    /// White as much wider than the shape's own stroke as the casing is, to each side.
    fn cased(&self, casing: Length) -> Stroke {
        let own = self.stroke.as_ref().and_then(|it| it.thickness.custom()).unwrap_or_default();
        let mut stroke = Stroke::from_pair(Color::WHITE, own + casing * 2.0);
        stroke.cap = Smart::Custom(LineCap::Round);
        stroke.join = Smart::Custom(LineJoin::Round);
        stroke
    }
}

/// The head of an arrow, 2.6 mm long and 1.8 mm wide: seen at arm's length beside a line of 1.6 pt.
const ARROW: (f64, f64) = (2.6, 0.9);

/// The head of an arrow at the end of a path, in the direction of its last step; none where that has no direction.
fn arrow_head(path: &BezPath, view: View) -> Option<Drawn> {
    let mut ends = path.elements().iter().rev().filter_map(PathEl::end_point);
    let (tip, from) = (ends.next()?, ends.next()?);
    let along = (tip - from).normalize();
    if !along.is_finite() {
        return None;
    }
    let tip = view.place(tip);
    let corner = |side: f64| {
        let (x, y) = (ARROW.0 * along.x, ARROW.0 * along.y);
        let (across_x, across_y) = (side * ARROW.1 * along.y, side * ARROW.1 * along.x);
        tip - Point::new(Abs::mm(x + across_x), Abs::mm(y - across_y))
    };
    let mut curve = Curve::new();
    curve.move_(tip);
    curve.line(corner(1.0));
    curve.line(corner(-1.0));
    curve.close();
    Some(Drawn { curve, fill: Some(Color::BLACK.into()), stroke: None })
}

/// A field that each style has.
fn field<T: FromValue>(of: &Dict, name: &str) -> StrResult<T> {
    let value = of.get(name).map_err(|_| said(name, &"it is missing"))?;
    T::from_value(value.clone()).map_err(|fault| said(name, fault.message()))
}

/// A field that some styles have.
fn or_none<T: FromValue>(of: &Dict, name: &str) -> StrResult<Option<T>> {
    if of.contains(name) { field(of, name).map(Some) } else { Ok(None) }
}

fn taken<T: FromValue>(value: Value) -> StrResult<T> {
    T::from_value(value).map_err(|fault| said("drawing", fault.message()))
}

fn said(what: &str, fault: &impl Display) -> typst::ecow::EcoString {
    typst::ecow::eco_format!("drawing, {what}: {fault}")
}
