//! Which pump is plotted, where there are several: its name stands over the plot, and a click on it takes the next one in hand, as a
//! click on a pump on the drawing does.

use super::super::view::{Intent, View};
use super::caption as words_above;
use crate::document::ComponentId;
use egui::{self, CursorIcon, Id, Rect, Sense, Ui, WidgetInfo, pos2};

/// Some words and the name of the plotted pump above the plot, as far as there is something to say; what is left for the plot.
pub(super) fn caption(ui: &Ui, place: Rect, view: &View<'_>, words: &str, intents: &mut Vec<Intent>) -> Rect {
    let name = name(view);
    let told = match (words, name) {
        ("", None) => return place,
        ("", Some(name)) => name.to_owned(),
        (words, None) => words.to_owned(),
        (words, Some(name)) => format!("{words} · {name}"),
    };
    let rest = words_above(ui, place, view, &told);
    if let (Some(name), Some(next)) = (name, next(view)) {
        let above = Rect::from_min_max(place.min, pos2(place.right(), rest.top()));
        let response = ui.interact(above, Id::unique("plotted pump"), Sense::click());
        response.widget_info(|| WidgetInfo::labeled(egui::Role::Button, true, format!("Plotted: {name}")));
        if response.hovered() {
            ui.ctx().set_cursor_icon(CursorIcon::PointingHand);
        }
        if response.clicked() {
            intents.push(Intent::TakeInHand(next));
        }
    }
    rest
}

/// The name of the pump in hand, where there are others.
fn name<'a>(view: &View<'a>) -> Option<&'a str> {
    let several = view.project.pumps().nth(1).is_some();
    view.project.components.get(&view.pump?).filter(|_| several).map(|component| component.name.as_str())
}

/// The pump after the one in hand, round and round.
pub(super) fn next(view: &View<'_>) -> Option<ComponentId> {
    let all: Vec<ComponentId> = view.project.pumps().map(|(id, _)| id).collect();
    let here = all.iter().position(|id| Some(*id) == view.pump)?;
    all.get((here + 1) % all.len()).copied().filter(|id| Some(*id) != view.pump)
}
