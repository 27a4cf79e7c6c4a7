//! What controls and texts say to a screen reader: headings with their level, closed lists with their value, fields that are
//! wrong with what is wrong, what is unfolded and what is sorted.

use egui::accesskit::{Action, HasPopup, Invalid, Node, Role, SortDirection};
use egui::{Event, Key, Label, Popup, Response, RichText, Ui};

use crate::access::focus::Focus;

/// A heading of a level from 1, as a label that wraps.
pub fn heading(ui: &mut Ui, level: usize, text: impl Into<RichText>) -> Response {
    let text = text.into();
    let said = text.text().to_owned();
    let response = ui.add(Label::new(text).wrap());
    as_heading(&response, level, &said);
    response
}

/// Says of what is drawn already that it is a heading.
pub fn as_heading(response: &Response, level: usize, said: &str) {
    on(response, |node| {
        node.set_role(Role::Heading);
        node.set_level(level);
        node.clear_value();
        node.set_label(said);
    });
}

/// A closed list: its value belongs to its name, for readers tell no other value of it; and whether it is open.
pub fn closed_list(response: &Response, name: &str, value: &str) {
    let open = egui::ComboBox::is_open(&response.ctx, response.id);
    response.widget_info(|| {
        let mut info = egui::WidgetInfo::labeled(Role::ComboBox, response.enabled(), valued(name, value));
        info.current_text_value = Some(value.to_owned());
        info
    });
    if open && is_chosen(response) {
        Popup::close_id(&response.ctx, response.id.with("popup"));
    }
    on(response, |node| {
        node.set_has_popup(HasPopup::Listbox);
        node.set_expanded(open);
    });
}

/// Whether an entry of an open list was pressed by a key or by a screen reader: only the pointer's click closes it by itself.
fn is_chosen(list: &Response) -> bool {
    let ctx = &list.ctx;
    let on_entry = ctx.memory(|m| m.focused().is_some_and(|id| id != list.id));
    let by_key = on_entry && ctx.input(|i| i.key_pressed(Key::Enter) || i.key_pressed(Key::Space));
    let is_asked = |e: &Event| match e {
        Event::AccessKitActionRequest(asked) => {
            asked.action == Action::Click && asked.target_node != list.id.accesskit_id()
        }
        _ => false,
    };
    by_key || ctx.input(|i| i.events.iter().any(is_asked))
}

/// The name of something that has a value.
pub fn valued(name: &str, value: &str) -> String {
    if value.is_empty() { name.to_owned() } else { format!("{name}: {value}") }
}

/// Unfolds something, or has unfolded it. Its name says it too, for not every reader is told this state.
pub fn unfolds(response: &Response, open: bool) {
    on(response, |node| node.set_expanded(open));
}

/// A heading of a column that sorts: whether by it, and which way. Its name says it too.
pub fn sorts(response: &Response, name: &str, sorted: Option<bool>) {
    let way = match sorted {
        None => "",
        Some(false) => ", sorted upwards",
        Some(true) => ", sorted downwards",
    };
    response.widget_info(|| egui::WidgetInfo::labeled(Role::Button, true, format!("Sort by {name}{way}")));
    if let Some(down) = sorted {
        let way = if down { SortDirection::Descending } else { SortDirection::Ascending };
        on(response, |node| node.set_sort_direction(way));
    }
}

/// A field whose text cannot be taken: the message that is drawn belongs to it.
pub fn wrong(field: &Response, told: &Response, text: &str) {
    on(field, |node| {
        node.set_invalid(Invalid::True);
        node.set_description(text);
        node.set_error_message(told.id.accesskit_id());
    });
}

/// What a control says beside its name.
pub fn described(response: &Response, text: &str) {
    if !text.is_empty() {
        on(response, |node| node.set_description(text));
    }
}

/// A picture that is looked at, not pressed: what it shows.
pub fn picture(response: &Response, shows: &str) {
    on(response, |node| {
        node.set_role(Role::Image);
        node.set_label(shows);
    });
}

/// The entry of a list that the keyboard is on while its field keeps the text: readers go there.
pub fn on_entry(field: &Response, entry: egui::Id) {
    if field.has_focus() {
        on(field, |node| node.set_active_descendant(entry.accesskit_id()));
    }
}

/// A field in a row of a list: keys that lead there select its text, so that typing replaces it and arrows lead on.
pub fn field_of_row(ui: &Ui, field: &Response, text: &str) {
    let by_pointer = ui.input(|i| i.pointer.any_down() || i.pointer.any_released());
    if field.gained_focus() && !by_pointer {
        crate::look::text::select_all(ui, field.id, text);
    }
    if !field.has_focus() {
        return;
    }
    let range = egui::TextEdit::load_state(ui.ctx(), field.id).and_then(|state| state.cursor.char_range());
    let all = text.chars().count();
    let is_all = range.is_none_or(|range| range.primary.index.0.abs_diff(range.secondary.index.0) == all);
    if all == 0 || is_all {
        ui.ctx().with_plugin(|focus: &mut Focus| focus.ready = Some(field.id));
    }
}

fn on(response: &Response, write: impl FnOnce(&mut Node)) {
    response.ctx.accesskit_node_builder(response.id, write);
}
