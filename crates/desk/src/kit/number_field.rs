//! A field for a plain number with limits. What cannot be read or lies outside is said
//! beside it, and the value stays what it was: nothing is put right in silence.

use super::field::one_line;
use super::length_field::{name_field, say_refused};
use super::theme::Palette;
use egui::{Key, Ui};
use std::ops::RangeInclusive;

/// What a number is, and between what it may lie.
pub(crate) struct Number<'a> {
    /// What a screen reader says; unique on its card.
    pub label: &'a str,
    pub limits: RangeInclusive<f64>,
    /// The step of the arrow keys.
    pub step: f64,
    /// Its unit, with the space before it; none for a bare number.
    pub unit: &'a str,
    pub decimals: usize,
}

impl Number<'_> {
    fn shown(&self, value: f64) -> String {
        let number = hangtrue_pattern::units::show_number(value, self.decimals);
        format!("{}{}", plain(&number), self.unit)
    }

    /// The limits in words.
    fn between(&self) -> String {
        let (low, high) = (self.shown(*self.limits.start()), self.shown(*self.limits.end()));
        format!("from {low} to {high}")
    }

    /// The number that was typed, or why it cannot be taken.
    fn read(&self, text: &str) -> Result<f64, String> {
        let plain = text.trim().trim_end_matches(self.unit.trim()).trim().replace(',', ".");
        let value: Option<f64> = plain.replace('−', "-").parse().ok();
        match value.filter(|v| v.is_finite()) {
            None => Err(format!("“{}” is not a number; write one {}", text.trim(), self.between())),
            Some(value) if !self.limits.contains(&value) => {
                Err(format!("{} lies outside: write one {}", self.shown(value), self.between()))
            }
            Some(value) => Ok(value),
        }
    }
}

/// A number without zeros that say nothing.
fn plain(number: &str) -> &str {
    if number.contains('.') { number.trim_end_matches('0').trim_end_matches('.') } else { number }
}

/// Shows the field; true when the value changed.
pub(crate) fn number_field(
    ui: &mut Ui,
    palette: &Palette,
    number: &Number,
    value: &mut f64,
) -> bool {
    let id = ui.make_persistent_id(("number", number.label));
    let being_typed: Option<String> = ui.data(|d| d.get_temp(id));
    let mut text = being_typed.clone().unwrap_or_else(|| number.shown(*value));
    let before = *value;
    ui.vertical(|ui| {
        let wide = ui.spacing().text_edit_width * 0.7;
        let response = ui.add(one_line(&mut text).id(id).desired_width(wide));
        name_field(ui, &response, number.label);
        let read = number.read(&text);
        if response.changed() {
            if let Ok(new) = read {
                *value = new;
            }
            ui.data_mut(|d| d.insert_temp(id, text.clone()));
        }
        let step = if response.has_focus() { stepped(ui) } else { 0.0 };
        if step != 0.0 {
            let (low, high) = (*number.limits.start(), *number.limits.end());
            *value = (*value + step * number.step).clamp(low, high);
            ui.data_mut(|d| d.remove_temp::<String>(id));
        } else if !response.has_focus() && being_typed.is_some() && number.read(&text).is_ok() {
            ui.data_mut(|d| d.remove_temp::<String>(id));
        }
        if let Err(why) = number.read(&text)
            && step == 0.0
        {
            say_refused(ui, palette, &format!("Not yet: {why}."));
        }
    });
    (*value - before).abs() > f64::EPSILON
}

/// A share from 0 to 1 as percent, with its limits in percent.
pub(crate) fn percent_field(
    ui: &mut Ui,
    palette: &Palette,
    label: &str,
    limits: RangeInclusive<f64>,
    share: &mut f64,
) -> bool {
    let mut percent = *share * 100.0;
    let number = Number { label, limits, step: 1.0, unit: " %", decimals: 1 };
    let changed = number_field(ui, palette, &number, &mut percent);
    if changed {
        *share = percent / 100.0;
    }
    changed
}

fn stepped(ui: &Ui) -> f64 {
    let pressed = |key| ui.input(|i| i.key_pressed(key));
    match (pressed(Key::ArrowUp), pressed(Key::ArrowDown)) {
        (true, false) => 1.0,
        (false, true) => -1.0,
        _ => 0.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_lies_outside_is_refused_in_words_and_what_is_shown_reads_back() {
        let number =
            Number { label: "share", limits: 64.0..=77.0, step: 1.0, unit: " %", decimals: 1 };
        assert_eq!(number.read("70"), Ok(70.0));
        assert_eq!(number.read(" 70,5 % "), Ok(70.5));
        for (text, word) in [("6", "6 % lies outside"), ("120", "from 64 % to 77 %"), ("x", "“x”")]
        {
            let refused = number.read(text).unwrap_err();
            assert!(refused.contains(word), "{refused}");
        }
        for value in [64.0, 70.5, 77.0] {
            assert_eq!(number.read(&number.shown(value)), Ok(value));
        }
    }
}
