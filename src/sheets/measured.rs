//! How a layout measures: as the typesetter does it, in a way that lets it find again what it laid out.
//!
//! What was measured is placed as a rule, and much of it is the same in the next case. The typesetter remembers each
//! paragraph by its words, its styles, the room of its page and the place of what asked for its size. By itself it
//! measures under one style more and in a room without end, from a place that is named after all that the asking
//! function knows, the case's data among it: no paragraph is ever found again. Here the style, which is the page's own,
//! is left away; the height given to `measure` is the page's, which bounds nothing and is what a share of a height refers
//! to; and every measuring begins at one place. No layout asks where a part stands while it measures it.

use typst::diag::SourceResult;
use typst::engine::Engine;
use typst::foundations::{Content, NativeElement, StyleChain, TargetElem};
use typst::introspection::Locator;
use typst::layout::{Abs, Fragment, Frame, Region, Regions, Size};
use typst::routines::Routines;

/// The typesetter's own routines, but for measuring.
pub(super) fn routines(own: &Routines) -> Routines {
    Routines {
        rules: own.rules,
        eval_string: own.eval_string,
        eval_closure: own.eval_closure,
        realize: own.realize,
        layout_frame: measured,
        html_module: own.html_module,
        html_mathml_body: own.html_mathml_body,
        html_span_filled: own.html_span_filled,
    }
}

/// Lays out a part in a room as wide as told and as high as it needs.
fn measured(
    engine: &mut Engine<'_>,
    content: &Content,
    _: Locator<'_>,
    mut styles: StyleChain<'_>,
    room: Region,
) -> SourceResult<Frame> {
    if let Some([only]) = styles.links().next()
        && only.property().is_some_and(|it| it.is_of(TargetElem::ELEM))
    {
        styles.pop();
    }
    let endless = Size::new(room.size.x, Abs::inf());
    let regions = Regions { size: endless, full: room.size.y, ..Regions::from(room) };
    let frame = typst_layout::layout_fragment(engine, content, Locator::root(), styles, regions)
        .map(Fragment::into_frame)?;
    if frame.height() < room.size.y {
        return Ok(frame);
    }
    // A block that must stay whole is never told to be higher than the page: what reaches its foot is measured without.
    typst_layout::layout_frame(
        engine,
        content,
        Locator::root(),
        styles,
        Region::new(endless, room.expand),
    )
}
