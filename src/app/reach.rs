//! Fields reached by keyboard: they come into sight.

use egui::Response;

/// Whether a field is reached by keyboard in this pass: a pointer sees where it goes.
pub(super) fn is_reached(response: &Response) -> bool {
    let by_pointer = |input: &egui::InputState| input.pointer.any_down() || input.pointer.any_released();
    response.gained_focus() && !response.ctx.input(by_pointer)
}

/// Brings a field into sight that is reached by keyboard.
pub(super) fn in_sight(response: Response) -> Response {
    if is_reached(&response) {
        response.scroll_to_me(None);
    }
    response
}
