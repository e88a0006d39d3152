//! A layout in its world → a document laid out: laid out again until nothing that it asks of itself changes.
//!
//! [`typst::compile`] does the same, with one difference: there a part that is measured asks where its like stands in the
//! document, which is known from the second time on only, so that everything measured is measured again. No layout
//! here needs that answer, and it is kept back: what was measured stays measured.

use std::num::NonZeroUsize;

use comemo::{Constraint, Track, Tracked};
use typst::World;
use typst::diag::{SourceDiagnostic, SourceResult, StrResult, Warned};
use typst::ecow::EcoVec;
use typst::engine::{Engine, Route, Sink, Traced};
use typst::foundations::{Content, Label, Output, Selector, StyleChain, TargetElem};
use typst::introspection::{
    DocumentPosition, EmptyIntrospector, Introspector, Location, MAX_ITERS,
};
use typst::model::Numbering;
use typst::syntax::{Span, VirtualPath};
use typst::utils::Protected;
use typst_layout::PagedDocument;

/// Lays out the world's main layout.
pub(super) fn compile(world: &dyn World) -> Warned<SourceResult<PagedDocument>> {
    let mut sink = Sink::new();
    let output = settled(world.track(), &mut sink);
    Warned { output, warnings: sink.warnings() }
}

/// Evaluates the main layout once and lays it out until it stays as it is.
fn settled(world: Tracked<'_, dyn World + '_>, sink: &mut Sink) -> SourceResult<PagedDocument> {
    let traced = Traced::default();
    let library = world.library();
    let main = world.source(world.main()).map_err(|fault| told(&fault.to_string()))?;
    let route = Route::default();
    let module =
        typst_eval::eval(world, library, traced.track(), sink.track_mut(), route.track(), &main)?;
    let content = module.content();
    let base = StyleChain::new(&library.styles);
    let target = TargetElem::target.set(PagedDocument::target()).wrap();
    let styles = base.chain(&target);

    let mut last: Option<PagedDocument> = None;
    for _ in 0..MAX_ITERS {
        let known: &dyn Introspector = match &last {
            Some(document) => &Unplaced(document.introspector().as_ref()),
            None => &EmptyIntrospector,
        };
        let constraint = Constraint::new();
        let mut heard = Sink::new();
        let mut engine = Engine {
            world,
            library,
            introspector: Protected::new(known.track_with(&constraint)),
            traced: traced.track(),
            sink: heard.track_mut(),
            route: Route::default(),
        };
        let document = PagedDocument::create(&mut engine, &content, styles)?;
        let holds =
            constraint.validate(&Unplaced(document.introspector().as_ref()) as &dyn Introspector);
        if holds {
            sink.extend_from_sink(heard);
            let delayed = sink.delayed();
            return if delayed.is_empty() { Ok(document) } else { Err(delayed) };
        }
        last = Some(document);
    }
    Err(told("the document changes each time that it is laid out"))
}

/// A fault with no place in a layout.
fn told(fault: &str) -> EcoVec<SourceDiagnostic> {
    [SourceDiagnostic::error(Span::detached(), fault)].into_iter().collect()
}

/// What a document knows of itself, but for where a measured part has its like.
struct Unplaced<'d>(&'d dyn Introspector);

impl Introspector for Unplaced<'_> {
    fn locator(&self, _: u128, _: Location) -> Option<Location> {
        None
    }

    fn query(&self, selector: &Selector) -> EcoVec<Content> {
        self.0.query(selector)
    }

    fn query_first(&self, selector: &Selector) -> Option<Content> {
        self.0.query_first(selector)
    }

    fn query_unique(&self, selector: &Selector) -> StrResult<Content> {
        self.0.query_unique(selector)
    }

    fn query_label(&self, label: Label) -> StrResult<&Content> {
        self.0.query_label(label)
    }

    fn query_labelled(&self) -> EcoVec<Content> {
        self.0.query_labelled()
    }

    fn query_count_before(&self, selector: &Selector, end: Location) -> usize {
        self.0.query_count_before(selector, end)
    }

    fn label_count(&self, label: Label) -> usize {
        self.0.label_count(label)
    }

    fn pages(&self, location: Location) -> Option<NonZeroUsize> {
        self.0.pages(location)
    }

    fn page(&self, location: Location) -> Option<NonZeroUsize> {
        self.0.page(location)
    }

    fn position(&self, location: Location) -> Option<DocumentPosition> {
        self.0.position(location)
    }

    fn page_numbering(&self, location: Location) -> Option<&Numbering> {
        self.0.page_numbering(location)
    }

    fn page_supplement(&self, location: Location) -> Option<&Content> {
        self.0.page_supplement(location)
    }

    fn anchor(&self, location: Location) -> Option<&typst::ecow::EcoString> {
        self.0.anchor(location)
    }

    fn document(&self, location: Location) -> Option<Location> {
        self.0.document(location)
    }

    fn path(&self, location: Location) -> Option<&VirtualPath> {
        self.0.path(location)
    }
}
