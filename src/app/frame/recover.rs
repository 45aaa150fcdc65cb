//! What a crash left behind is offered, and a file that another program has changed is told.

use super::super::keeping::{Decision, OnDisk};
use super::super::look::{self, Palette, STEP, size};
use crate::file::recovery::LeftBehind;
use egui::{self, Button, Key, Margin, Response, RichText, Ui};
use std::path::Path;
use std::time::SystemTime;

/// Offers copies of unsaved work. `deleting` is the one whose deletion waits for a second word.
pub(in super::super) fn offer_recovery(
    ctx: &egui::Context,
    copies: &[LeftBehind],
    deleting: Option<&Path>,
    now: SystemTime,
) -> Option<Decision> {
    let mut decision = None;
    let modal = look::modal(ctx, "recovery").show(ctx, |ui| {
        ui.set_width(560.0);
        ui.label(RichText::new("Unsaved work was found").font(look::strong(size::LEAD)));
        ui.label("The program ended without closing. These copies of unsaved work are left:");
        egui::ScrollArea::vertical().max_height(0.6 * ctx.content_rect().height()).show(ui, |ui| {
            for copy in copies {
                ui.separator();
                decision = row(ui, copy, deleting == Some(copy.path()), now).or(decision.take());
            }
        });
        ui.separator();
        if copies.len() > 1 {
            let rest = "One can be recovered at a time; the others are offered again once it is saved or given up.";
            ui.label(RichText::new(rest).size(size::SMALL));
        }
        if ui.button("Later").on_hover_text("Leave them as they are and ask at the next start").clicked() {
            decision = Some(Decision::Later);
        }
    });
    let escaped = ctx.input(|i| i.key_pressed(Key::Escape)) || modal.should_close();
    decision.or(escaped.then_some(Decision::Later))
}

fn row(ui: &mut Ui, copy: &LeftBehind, deleting: bool, now: SystemTime) -> Option<Decision> {
    let path = copy.path().to_owned();
    let title = match copy.origin() {
        Ok(origin) => {
            ui.label(RichText::new(&origin.title).font(look::strong(size::BODY)));
            let from = match &origin.path {
                Some(path) => format!("of {}", path.display()),
                None => "not yet in a file".to_owned(),
            };
            ui.label(format!("Copied {}, {from}", ago(origin.time, now)));
            origin.title.clone()
        }
        Err(why) => {
            ui.label(RichText::new("A copy that cannot be read").font(look::strong(size::BODY)));
            ui.label(why);
            path.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned())
        }
    };
    let mut decision = None;
    ui.horizontal(|ui| {
        if named(ui.add_enabled(copy.origin().is_ok(), Button::new("Recover")), "Recover", &title).clicked() {
            decision = Some(Decision::Recover(path.clone()));
        }
        let word = if deleting { "Delete for good" } else { "Delete…" };
        if named(ui.button(word), word.trim_end_matches('…'), &title).clicked() {
            decision = Some(Decision::Delete(path.clone()));
        }
        if deleting {
            ui.label("This work cannot be brought back then.");
        }
    });
    decision
}

/// Gives a button that stands in several rows a name of its own.
fn named(response: Response, word: &str, title: &str) -> Response {
    let enabled = response.enabled();
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, enabled, format!("{word} {title}")));
    response
}

/// How long ago something was, in words.
fn ago(time: SystemTime, now: SystemTime) -> String {
    let Ok(since) = now.duration_since(time) else { return "at a time that lies ahead of this clock".to_owned() };
    let minutes = since.as_secs() / 60;
    let (count, unit) = match minutes {
        0 => return "less than a minute ago".to_owned(),
        1..60 => (minutes, "minute"),
        60..1440 => (minutes / 60, "hour"),
        _ => (minutes / 1440, "day"),
    };
    format!("{count} {unit}{} ago", if count == 1 { "" } else { "s" })
}

/// Asks before a save goes over what another program has written.
pub(in super::super) fn ask_save_over(ctx: &egui::Context, path: &Path) -> Option<Decision> {
    let mut decision = None;
    let modal = look::modal(ctx, "save over").show(ctx, |ui| {
        ui.set_width(500.0);
        ui.label(RichText::new("The file was changed meanwhile").font(look::strong(size::LEAD)));
        ui.label(format!(
            "{} was changed on disk by another program since it was opened or saved here. Saving loses that.",
            path.display()
        ));
        ui.horizontal(|ui| {
            for (word, means) in [
                ("Save over it", Decision::SaveOver(path.to_owned())),
                ("Save to another file…", Decision::SaveElsewhere),
                ("Do not save", Decision::DoNotSave),
            ] {
                if ui.button(word).clicked() {
                    decision = Some(means);
                }
            }
        });
    });
    let escaped = ctx.input(|i| i.key_pressed(Key::Escape)) || modal.should_close();
    decision.or(escaped.then_some(Decision::DoNotSave))
}

/// Tells that the file at work was changed or is gone; it stays until answered, or until the file is as it was.
pub(in super::super) fn notice_on_disk(ctx: &egui::Context, path: &Path, on_disk: OnDisk) -> Option<Decision> {
    let palette = Palette::of(ctx.theme());
    let name = path.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
    let frame = egui::Frame::NONE
        .fill(look::between(palette.raised, palette.starved, 0.12))
        .stroke(egui::Stroke::new(1.0, palette.starved))
        .corner_radius(7)
        .shadow(ctx.global_style().visuals.popup_shadow)
        .inner_margin(Margin::symmetric(4 * STEP as i8, 3 * STEP as i8));
    let mut decision = None;
    // At the head of the drawing: other notices lie over its lower part.
    let place = ctx.content_rect().left_top() + egui::vec2(24.0, 120.0);
    let area = egui::Area::new(egui::Id::unique("on disk")).fixed_pos(place).order(egui::Order::Foreground);
    area.show(ctx, |ui| {
        frame.show(ui, |ui| {
            ui.set_max_width((0.45 * ctx.content_rect().width()).clamp(200.0, 560.0));
            let (text, answers) = match on_disk {
                OnDisk::Changed(_) => (
                    format!("{name} was changed on disk by another program."),
                    &[("Load that version", Decision::LoadTheirs), ("Keep mine", Decision::KeepMine)][..],
                ),
                OnDisk::Gone => (
                    format!("{name} is no longer on disk. Saving writes it anew."),
                    &[("Understood", Decision::KeepMine)][..],
                ),
            };
            ui.label(text).on_hover_text(path.display().to_string());
            ui.horizontal(|ui| {
                for (word, means) in answers {
                    if ui.button(*word).clicked() {
                        decision = Some(means.clone());
                    }
                }
            });
        });
    });
    decision
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::time::Duration;

    #[test]
    fn times_are_told_in_words() {
        let now = SystemTime::UNIX_EPOCH + Duration::from_secs(1_000_000);
        for (seconds, words) in [
            (59, "less than a minute ago"),
            (60, "1 minute ago"),
            (3599, "59 minutes ago"),
            (7300, "2 hours ago"),
            (86_400, "1 day ago"),
            (864_001, "10 days ago"),
        ] {
            assert_eq!(ago(now - Duration::from_secs(seconds), now), words);
        }
        assert!(ago(now + Duration::from_secs(5), now).contains("ahead"));
    }
}
