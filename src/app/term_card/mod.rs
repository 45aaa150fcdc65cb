//! The card of a term: shown while the pointer rests on what bears its name, or by F1 on what has the keyboard's focus. It stands
//! beside what it explains, never over it.

mod body;

use super::view::View;
use crate::document::{ComponentId, PipeId, ZoneId};
use crate::engine::units::Units;
use crate::study::terms::{self, Card, Subject, Term};
use egui::{self, Context, Id, Key, Rect, RectAlign, Response, Sense, Stroke, StrokeKind, Tooltip, Ui};
use std::sync::Arc;

/// Width of a card, points.
const WIDTH: f32 = 372.0;

/// Where a card may stand beside its anchor, the best first.
const BESIDE: [RectAlign; 6] = [
    RectAlign::LEFT_START,
    RectAlign::LEFT_END,
    RectAlign::RIGHT_START,
    RectAlign::RIGHT_END,
    RectAlign::TOP_START,
    RectAlign::BOTTOM_START,
];
/// The same for what stands in a row of words.
const ABOVE: [RectAlign; 6] = [
    RectAlign::TOP_START,
    RectAlign::TOP_END,
    RectAlign::BOTTOM_START,
    RectAlign::BOTTOM_END,
    RectAlign::LEFT_START,
    RectAlign::RIGHT_START,
];

/// A card to be shown on something.
pub(super) struct TermCard<'a> {
    view: &'a View<'a>,
    term: Term,
    hint: &'a str,
    zone: Option<ZoneId>,
    component: Option<ComponentId>,
    pipe: Option<PipeId>,
    anchor: Option<Rect>,
    above: bool,
}

impl<'a> TermCard<'a> {
    /// The card of a term.
    pub(super) fn new(view: &'a View<'a>, term: Term) -> Self {
        let of_zone = term == Term::ZoneAlone;
        let zone = view.hovered.filter(|_| of_zone);
        Self { view, term, hint: "", zone, component: None, pipe: None, anchor: None, above: false }
    }

    /// What else is to be said where it stands: how a field is worked.
    pub(super) fn hint(mut self, hint: &'a str) -> Self {
        self.hint = hint;
        self
    }

    /// Of what is selected on the drawing, if that is one thing.
    pub(super) fn of_selection(mut self) -> Self {
        let selection = self.view.selection;
        let (mut components, mut pipes) = (selection.components.iter(), selection.pipes.iter());
        match (components.next(), components.next(), pipes.next(), pipes.next()) {
            (Some(id), None, None, None) => {
                self.component = Some(*id);
                self.zone = self.view.project.zone_of(*id);
            }
            (None, None, Some(id), None) => self.pipe = Some(*id),
            _ => {}
        }
        self
    }

    /// It stands beside this rectangle, and not beside the thing itself.
    pub(super) fn beside(mut self, anchor: Rect) -> Self {
        self.anchor = Some(anchor);
        self
    }

    /// It stands above rather than beside.
    pub(super) fn above(mut self) -> Self {
        self.above = true;
        self
    }

    /// Shows it while the pointer rests there, or after F1 while the focus stays.
    pub(super) fn on(self, response: &Response) {
        self.describe(response);
        let pinned = is_pinned(response);
        let open = pinned || Tooltip::for_enabled(response).popup.is_open();
        // Before people who look on it would cover what is shown, in type that they cannot read.
        if open && !self.view.presents {
            self.show(response);
        }
    }

    /// Tells a screen reader what the card says.
    fn describe(&self, response: &Response) {
        if response.ctx.has_accesskit_node(response.id) {
            let text = format!("{} {}", self.term.entry().text, self.hint);
            response.ctx.accesskit_node_builder(response.id, |node| node.set_description(text.trim()));
        }
    }

    /// Shows it, whatever the pointer does.
    pub(super) fn show(self, response: &Response) {
        let card = self.card(&response.ctx);
        let mut tooltip = Tooltip::for_widget(response);
        let anchor = self.anchor.unwrap_or(response.rect);
        let places = if self.above { &ABOVE } else { &BESIDE };
        tooltip.popup = tooltip.popup.anchor(anchor).align(places[0]).align_alternatives(&places[1..]).width(WIDTH);
        tooltip.show(|ui| body::show(ui, self.view, &card, self.hint));
    }

    /// The card, kept while nothing changes that it is made from: a resting pointer reckons nothing.
    fn card(&self, ctx: &Context) -> Arc<Card> {
        if self.view.is_stale() {
            return Arc::new(terms::bare(self.term));
        }
        let pump = self.component.filter(|id| self.view.project.pump(*id).is_some()).or(self.view.pump);
        let key = Basis {
            term: self.term,
            revision: self.view.revision,
            pump,
            of: (self.zone, self.component, self.pipe),
            units: *self.view.units,
        };
        let id = Id::unique("card of a term");
        if let Some((kept, card)) = ctx.data(|data| data.get_temp::<(Basis, Arc<Card>)>(id))
            && kept == key
        {
            return card;
        }
        let subject = Subject {
            zone: self.zone,
            component: self.component,
            pipe: self.pipe,
            ..Subject::new(self.view.project, self.view.study, self.view.units, pump)
        };
        let card = Arc::new(terms::card(self.term, &subject));
        ctx.data_mut(|data| data.insert_temp(id, (key, Arc::clone(&card))));
        card
    }
}

/// What a kept card was made from.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Basis {
    term: Term,
    revision: u64,
    pump: Option<ComponentId>,
    of: (Option<ZoneId>, Option<ComponentId>, Option<PipeId>),
    units: Units,
}

/// Whether F1 has been pressed on what has the focus; pressed again, or Escape, and it is not.
fn is_pinned(response: &Response) -> bool {
    let id = Id::unique("term explained by key");
    let pinned = response.ctx.data(|data| data.get_temp::<Id>(id)) == Some(response.id);
    if !response.has_focus() {
        if pinned {
            response.ctx.data_mut(|data| data.remove::<Id>(id));
        }
        return false;
    }
    let (toggled, closed) = response.ctx.input(|i| (i.key_pressed(Key::F1), i.key_pressed(Key::Escape)));
    match (toggled, closed) {
        (true, _) if pinned => response.ctx.data_mut(|data| data.remove::<Id>(id)),
        (true, _) => {
            response.ctx.data_mut(|data| data.insert_temp(id, response.id));
        }
        (false, true) if pinned => response.ctx.data_mut(|data| data.remove::<Id>(id)),
        _ => return pinned,
    }
    toggled && !pinned
}

/// Makes a painted word explain itself: by hover, and by F1 once the keyboard has come to it.
pub(super) fn word(ui: &Ui, rect: Rect, salt: &str, view: &View<'_>, term: Term) {
    let area = rect.expand2(egui::vec2(4.0, 3.0));
    let response = ui.interact(area, ui.scope_id().with(("term", salt)), Sense::focusable_noninteractive());
    let name = term.entry().name;
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Label, true, format!("What is: {name}")));
    if response.has_focus() {
        let ring = Stroke::new(2.0, view.palette.accent);
        ui.painter().rect_stroke(area, 4, ring, StrokeKind::Inside);
    }
    TermCard::new(view, term).above().on(&response);
}
