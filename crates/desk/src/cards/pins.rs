//! The pins of a pinch as they were measured on the cloth: where each station
//! stands, how much is taken there, and what the amount is the measure of.

use crate::board::Board;
use crate::board::pinches;
use crate::kit::drop_down::{drop_down, item};
use crate::kit::length_field::{bare_length_field, name_field, name_id, optional_length_field};
use crate::kit::number_field::percent_field;
use crate::kit::pull::to_steps;
use crate::kit::say::{aside, fault};
use crate::kit::theme::bold;
use egui::Ui;
use hangtrue_adjust::{
    Counted, LaidPinch, MeasuredPin, MeasuredPlace, Pinch, Station, StationPlace,
};
use hangtrue_pattern::Pattern;
use hangtrue_pattern::words::InUnit;

/// How the pins are being written down.
#[derive(Debug, Default)]
pub(crate) struct PinsForm {
    /// Amounts are the depth of the fold, half of what is taken.
    fold_depth: bool,
    /// A station that is being measured from both seams.
    tapes: Option<Tapes>,
}

/// A station measured from both seams, each checking the other.
#[derive(Debug, Clone)]
struct Tapes {
    index: usize,
    from: [(String, f64); 2],
}

impl PinsForm {
    fn is_for(&self, index: usize) -> bool {
        self.tapes.as_ref().is_some_and(|t| t.index == index)
    }
}

/// Shows the stations of a pinch on `base`.
pub(super) fn show(
    form: &mut PinsForm,
    board: &Board,
    ui: &mut Ui,
    pinch: &mut Pinch,
    base: &Pattern,
) {
    let laid = pinch.lay(base);
    ui.label("Pinned at each place, and where it is:");
    ui.checkbox(&mut form.fold_depth, "Measured from the pins to the edge of the fold")
        .on_hover_text("A fold takes twice its depth: from hash mark to hash mark.");
    let empty = pinches::is_empty(pinch);
    let mut removed = None;
    for index in 0..pinch.stations.len() {
        let alone = pinch.stations.len() == 1;
        let station = &mut pinch.stations[index];
        ui.horizontal_wrapped(|ui| {
            ui.label(bold(format!("{}", index + 1)));
            ui.spacing_mut().text_edit_width *= 0.72;
            amount_field(board, ui, (form.fold_depth, empty), &mut station.amount, index);
            place_row(board, ui, form, station, index, laid.as_ref().ok());
            let away = egui::Button::new("Take away");
            let away = ui.add_enabled(!alone, away).on_hover_text("Take this pin place away");
            name_field(ui, &away, &format!("Take pin place {} away", index + 1));
            if away.clicked() {
                removed = Some(index);
            }
        });
        tapes_row(board, ui, form, pinch, index, base);
    }
    if let Some(index) = removed {
        pinch.stations.remove(index);
        form.tapes = None;
    }
    ui.horizontal_wrapped(|ui| {
        if ui.button("Add a pin place").clicked() {
            let free = [0.5, 0.25, 0.75, 0.375, 0.625, 0.125, 0.875];
            let taken = |s: &f64| {
                pinch
                    .stations
                    .iter()
                    .any(|t| matches!(t.at, StationPlace::Share(x) if (x - s).abs() < 0.03))
            };
            if let Some(share) = free.iter().find(|s| !taken(s)) {
                // What the pins before it say is taken there.
                let amount = laid
                    .as_ref()
                    .ok()
                    .and_then(|laid| Some(laid.profile().ok()?.at(share * laid.path.length())));
                let amount = to_steps(amount.unwrap_or(0.0), board.unit());
                pinch.stations.push(Station { at: StationPlace::Share(*share), amount });
            }
        }
    });
    aside(
        board,
        ui,
        "Zero where the path meets a seam, unless a pin place is there. Minus lets out.",
    );
    if let Err(why) = laid
        && !pinches::is_empty(pinch)
    {
        fault(board, ui, &why.in_unit(board.unit()));
    }
}

/// Where a station stands: its number, and from where it is counted.
fn place_row(
    board: &Board,
    ui: &mut Ui,
    form: &mut PinsForm,
    station: &mut Station,
    index: usize,
    laid: Option<&LaidPinch>,
) {
    let (palette, unit) = (board.palette, board.unit());
    match &mut station.at {
        StationPlace::Share(share) => {
            let label = format!("Where pin place {} is", index + 1);
            percent_field(ui, &palette, &label, 0.0..=100.0, share);
        }
        StationPlace::From(_, distance) => {
            let label = format!("Distance of pin place {}", index + 1);
            bare_length_field(ui, &palette, &label, distance, unit);
        }
    }
    let counted = match &station.at {
        StationPlace::Share(_) => "of the way".to_owned(),
        StationPlace::From(seam, _) => format!("from the {seam}"),
    };
    let Some(laid) = laid else {
        ui.label(counted);
        return;
    };
    let length = laid.path.length();
    let share = match &station.at {
        StationPlace::Share(share) => *share,
        StationPlace::From(seam, far) if *seam == laid.ends[0].seam => far / length,
        StationPlace::From(_, far) => 1.0 - far / length,
    };
    let ways = [
        StationPlace::Share(share),
        StationPlace::From(laid.ends[0].seam.clone(), share * length),
        StationPlace::From(laid.ends[1].seam.clone(), (1.0 - share) * length),
    ];
    let combo =
        egui::ComboBox::from_id_salt(("counted", index)).selected_text(&counted).width(60.0);
    let shown = drop_down(ui, combo, |ui| {
        for way in ways {
            let words = match &way {
                StationPlace::Share(_) => "of the way".to_owned(),
                StationPlace::From(seam, _) => format!("from the {seam}"),
            };
            if item(ui, words == counted, &words).clicked() && words != counted {
                station.at = way;
            }
        }
        if item(ui, form.is_for(index), "from both seams").clicked() {
            let (a, b) = (share * length, (1.0 - share) * length);
            let [first, second] = &laid.ends;
            let from = [(first.seam.clone(), a), (second.seam.clone(), b)];
            form.tapes = Some(Tapes { index, from });
        }
    });
    let label = format!("Pin place {} is counted: {counted}", index + 1);
    name_id(ui, shown.response.id, &label);
}

/// How much is taken, counted as the maker measured it.
/// What the field of the first amount is called.
pub(super) const FIRST_AMOUNT: &str = "Amount at pin place 1";

/// How much is taken, or the depth of its fold; a pinch that is `empty` asks for it.
fn amount_field(
    board: &Board,
    ui: &mut Ui,
    (fold_depth, empty): (bool, bool),
    amount: &mut f64,
    index: usize,
) {
    let (words, part) = if fold_depth { ("Depth of the fold", 0.5) } else { ("Amount", 1.0) };
    let label = format!("{words} at pin place {}", index + 1);
    let mut shown = (!empty).then_some(part * *amount);
    let hint = if empty { "how much?" } else { "" };
    if optional_length_field(ui, &board.palette, &label, &mut shown, board.unit(), hint)
        && let Some(new) = shown
    {
        *amount = new / part;
    }
}

/// The two tapes of a station measured from both seams, and what they come to.
fn tapes_row(
    board: &Board,
    ui: &mut Ui,
    form: &mut PinsForm,
    pinch: &mut Pinch,
    index: usize,
    base: &Pattern,
) {
    let Some(tapes) = form.tapes.as_mut().filter(|t| t.index == index) else { return };
    let (palette, unit) = (board.palette, board.unit());
    let mut fixed = false;
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().text_edit_width *= 0.72;
        for (seam, far) in &mut tapes.from {
            let label = format!("Pin place {} from the {seam}", index + 1);
            bare_length_field(ui, &palette, &label, far, unit);
            ui.label(format!("from the {seam}"));
        }
        fixed = ui.button("Set it there").clicked();
    });
    let place = MeasuredPlace::FromBoth(tapes.from.clone());
    let pins = [MeasuredPin { place, amount: pinch.stations[index].amount }];
    let path = pinch.path.clone();
    let read = Pinch::as_measured(&pinch.name, &pinch.piece, path, &pins, Counted::Whole, base);
    match read {
        Ok(read) => {
            aside(board, ui, "Both tapes agree; what they miss is spread over both.");
            if let (true, Some(station)) = (fixed, read.stations.first()) {
                pinch.stations[index].at = station.at.clone();
                form.tapes = None;
            }
        }
        Err(why) => fault(board, ui, &why.in_unit(board.unit())),
    }
}
