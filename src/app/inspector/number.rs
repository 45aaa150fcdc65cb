//! A number in a field: typed with or without a unit, or dragged sideways. What is shown during a drag is what is set; what
//! cannot be is refused in words and not taken.

use super::super::typed::Typed;
use super::super::view::Intent;
use super::form::{Form, ROW, in_sight};
use crate::document::within;
use crate::engine::units::{Quantity, UnitError, Units};
use egui::{self, Align, DragValue, Id, Layout, RichText};
use std::cell::RefCell;
use std::rc::Rc;

/// What a number measures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Measure {
    /// A quantity, in the reader's unit.
    Of(Quantity),
    /// A pure number with so many decimals at most.
    Pure(usize),
}

impl Measure {
    /// The number with its unit.
    pub(super) fn format(self, units: &Units, value: f64) -> String {
        match self {
            Self::Of(quantity) => units.format(quantity, value),
            Self::Pure(decimals) => pure(value, decimals),
        }
    }

    /// The number without its unit.
    pub(super) fn number(self, units: &Units, value: f64) -> String {
        match self {
            Self::Of(quantity) => units.number(quantity, value),
            Self::Pure(decimals) => pure(value, decimals),
        }
    }

    /// The number that was typed, if it lies in a range.
    pub(super) fn parse(self, units: &Units, text: &str, range: (f64, f64)) -> Result<f64, String> {
        let value = match self {
            Self::Of(quantity) => units.parse(quantity, text).map_err(|flaw| flaw.to_string())?,
            Self::Pure(_) => parse_pure(text)?,
        };
        if value >= range.0 - 1e-12 && value <= range.1 + 1e-12 {
            return Ok(value);
        }
        let (low, high) = (self.format(units, range.0), self.format(units, range.1));
        Err(format!("{text} cannot be set: give {low} to {high}"))
    }

    /// The least step that is shown, in the inside unit.
    fn step(self, units: &Units) -> f64 {
        match self {
            Self::Of(quantity) => {
                let shown = 0.1_f64.powi(i32::try_from(units.get(quantity).decimals()).unwrap_or(2));
                units.to_si(quantity, shown) - units.to_si(quantity, 0.0)
            }
            Self::Pure(decimals) => 0.1_f64.powi(i32::try_from(decimals).unwrap_or(2)),
        }
    }
}

/// A pure number with no more decimals than it needs.
fn pure(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// Reads a pure number by the same rules for commas and spaces as all others: in a unit of size one.
fn parse_pure(text: &str) -> Result<f64, String> {
    Units::si().parse(Quantity::RotationalSpeed, text).map_err(|flaw| match flaw {
        UnitError::Empty { .. } => "type a number".to_owned(),
        UnitError::NotANumber { .. } | UnitError::TwoWays { .. } => flaw.to_string(),
        UnitError::OtherQuantity { .. } | UnitError::UnknownUnit { .. } => {
            format!("“{text}” is not a plain number: type it without a unit")
        }
    })
}

/// A number to be shown and set.
pub(super) struct Number<'n> {
    /// What it is called in a complaint.
    pub(super) name: &'n str,
    pub(super) measure: Measure,
    /// Present value, inside unit.
    pub(super) value: f64,
    /// What can be set, inside unit.
    pub(super) range: (f64, f64),
    /// Whether it can be dragged; a table's cells cannot, so that rows stay in place.
    pub(super) drags: bool,
    /// Whether the unit stands beside it.
    pub(super) with_unit: bool,
}

impl Number<'_> {
    /// The field, named by a label, as wide as told; the new value if it was changed.
    pub(super) fn show(&self, form: &mut Form<'_, '_>, named: Id, width: f32) -> Option<f64> {
        let units = form.view.units;
        let measure = self.measure;
        let (kept, range) = (self.value, self.range);
        let shown = if self.with_unit { measure.format(units, kept) } else { measure.number(units, kept) };
        let mut value = kept;
        let step = measure.step(units);
        let speed = if self.drags { (0.004 * kept.abs()).max(0.25 * step) } else { 0.0 };
        let refused: Rc<RefCell<Option<String>>> = Rc::default();
        let typed;
        let field = match measure {
            Measure::Of(quantity) => {
                typed = Typed::new(units, quantity, kept, shown, range);
                typed.field(&mut value)
            }
            Measure::Pure(decimals) => {
                typed = Typed::new(units, Quantity::Share, kept, shown.clone(), range);
                let refused = Rc::clone(&refused);
                DragValue::new(&mut value)
                    .range(range.0.min(kept)..=range.1.max(kept))
                    .clamp_existing_to_range(false)
                    .update_while_editing(false)
                    .custom_formatter(move |value, _| pure(value, decimals))
                    .custom_parser(move |text| {
                        if text.trim() == shown {
                            return Some(kept);
                        }
                        let outcome = measure.parse(&Units::si(), text, range);
                        outcome.map_err(|why| *refused.borrow_mut() = Some(why)).ok()
                    })
            }
        };
        let layout = Layout::right_to_left(Align::Center).with_main_align(Align::Max);
        let response = form
            .ui
            .allocate_ui_with_layout(egui::vec2(width, ROW), layout, |ui| {
                ui.spacing_mut().interact_size = egui::vec2(width, ROW);
                ui.spacing_mut().button_padding.x = 8.0;
                in_sight(ui.add(field.speed(speed)).labelled_by(named))
            })
            .inner;
        let complaint = refused.borrow_mut().take().map(|why| format!("{}: {why}", self.name));
        form.intents.extend(complaint.or(typed.complaint(self.name)).map(Intent::Reject));
        if response.dragged() {
            // What a drag sets is what it shows, to the last digit.
            value = measure.parse(units, &measure.number(units, value), range).unwrap_or(kept);
        }
        (response.changed() && value != kept).then(|| within(value, (range.0.min(kept), range.1.max(kept))))
    }
}

impl Form<'_, '_> {
    /// A row with a number; the new value if it was changed.
    pub(super) fn number(
        &mut self,
        label: &str,
        hint: &str,
        measure: Measure,
        value: f64,
        range: (f64, f64),
    ) -> Option<f64> {
        self.row(label, hint, |form, named| {
            let width = form.ui.available_width();
            let number = Number { name: label, measure, value, range, drags: true, with_unit: true };
            number.show(form, named, width)
        })
    }

    /// A row with a number that may be left out: a tick before its label, and words in its place without it. `start` is what it
    /// begins with.
    pub(super) fn optional(
        &mut self,
        (label, hint): (&str, &str),
        measure: Measure,
        value: Option<f64>,
        (start, without): (f64, &str),
        range: (f64, f64),
    ) -> Option<Option<f64>> {
        let quiet = self.view.palette.quiet;
        self.row_of(
            label,
            |form| {
                let mut has = value.is_some();
                let text = RichText::new(label).color(quiet);
                form.ui.spacing_mut().icon_spacing = 4.0;
                let response = in_sight(form.ui.checkbox(&mut has, text));
                form.explain(&response, label, hint);
                (response.id, response.changed().then(|| has.then_some(start)))
            },
            |form, (named, ticked)| {
                let width = form.ui.available_width();
                let Some(present) = value else {
                    form.ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                        ui.add_space(8.0);
                        ui.add(egui::Label::new(RichText::new(without).color(quiet)).wrap());
                    });
                    return ticked;
                };
                let number = Number { name: label, measure, value: present, range, drags: true, with_unit: true };
                let typed = number.show(form, named, width).map(Some);
                ticked.or(typed)
            },
        )
    }
}
