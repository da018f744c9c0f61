//! How the lines of the worn toile hang, measured by ruler: a strip for each line,
//! view and leg, with its stations from the inner end to the side.

use crate::board::Board;
use crate::board::asked::Asked;
use crate::board::requests::Requests;
use crate::hang::state::{Hang, SettledHomes};
use crate::kit::drop_down::{drop_down, pick};
use crate::kit::length_field::{
    is_being_typed, name_field, name_id, put_cursor_into, typed_length, wide_enough,
};
use crate::kit::remark::{Remark, room_of, say_in_room};
use crate::kit::say::{aside, part};
use crate::kit::theme::bold;
use egui::{Align, Button, ComboBox, Layout, TextStyle, Ui, vec2};
use hangtrue_adjust::reading::{
    Droop, HangLine, Leg, LinePlace, MOST_DROOP, PieceView, SAME_PLACE, at_home, droop_words,
};
use hangtrue_adjust::{OPEN_ROUND, RoundDroop};
use hangtrue_files::droops::BY_RULER;
use hangtrue_pattern::Pattern;
use hangtrue_pattern::units::{Unit, show_length, show_margin};
use hangtrue_pattern::words::capital;
use std::sync::Arc;

/// What the card keeps.
#[derive(Debug, Default)]
pub(crate) struct HangingCard {
    form: NewStrip,
    /// Lines whose legs are shown one by one, though they say the same.
    split: Vec<(HangLine, PieceView)>,
    /// The strips asked for, shown also while nothing of them is measured.
    begun: Vec<Strip>,
    home: Option<Home>,
}

/// How the places shown hang on a toile that fits, and what that was worked out from.
#[derive(Debug)]
struct Home {
    cut: Arc<Pattern>,
    settled: SettledHomes,
    places: Vec<LinePlace>,
    hangs: Vec<Option<(f64, f64)>>,
}

impl Home {
    fn is_of(&self, cut: &Arc<Pattern>, settled: &SettledHomes, places: &[LinePlace]) -> bool {
        let by = |h: &SettledHomes| h.as_ref().map(Arc::as_ptr);
        Arc::ptr_eq(&self.cut, cut) && by(&self.settled) == by(settled) && self.places == places
    }
}

/// Works out how the places of the strips hang at home, when they or the toile changed.
fn look_home(own: &mut HangingCard, hang: &mut Hang, board: &Board, strips: &[Strip]) {
    let Ok(cut) = board.replay.toile(OPEN_ROUND) else { return own.home = None };
    let places: Vec<LinePlace> = strips.iter().flat_map(Strip::places).collect();
    let settled = hang.home(board);
    if !own.home.as_ref().is_some_and(|h| h.is_of(cut, &settled, &places)) {
        let homes = settled.as_ref().map_or(&[][..], |h| h.as_slice());
        let hangs = at_home(cut, homes, &places);
        own.home = Some(Home { cut: cut.clone(), settled, places, hangs });
    }
}

/// What a strip does on a toile that fits, said before it is measured.
fn home_words(strip: &Strip, home: &[Option<(f64, f64)>], unit: Unit) -> String {
    let known: Option<Vec<(f64, f64)>> = home.iter().copied().collect();
    let Some(known) = known else {
        return "How it hangs on a toile that fits is not known: it is set against level.".into();
    };
    let said = strip.stations.iter().zip(&known).map(|((at, _), (mm, _))| {
        format!("{} {}", place_words(strip.line, *at), droop_words(*mm, unit))
    });
    let widest = known.iter().map(|k| k.1).fold(0.0, f64::max);
    let said = said.collect::<Vec<_>>().join(", ");
    if widest <= 0.0 {
        return format!("On a toile that fits, from its end at the side: {said}.");
    }
    format!(
        "On a toile that fits, predicted, from its end at the side: {said}, ± {}.",
        show_margin(widest, unit)
    )
}

/// The line that is to be added.
#[derive(Debug)]
struct NewStrip {
    line: HangLine,
    view: PieceView,
    leg: Option<Leg>,
}

impl Default for NewStrip {
    fn default() -> Self {
        Self { line: HangLine::Thigh, view: PieceView::Back, leg: None }
    }
}

/// A line in a view on the legs for which the same is written down.
#[derive(Debug, Clone, PartialEq)]
struct Strip {
    line: HangLine,
    view: PieceView,
    legs: Vec<Leg>,
    /// Where along the line, 0 to 1, and how far it hangs, mm; none where nothing
    /// was measured yet.
    stations: Vec<(f64, Option<f64>)>,
    error: f64,
}

/// Most lines hang less low than that, mm: 3 3/8 in. Room for it is kept.
const USUAL_AT_MOST: f64 = 85.725;

/// The places a line is measured at in any case.
const USUAL_PLACES: [f64; 3] = [0.0, 0.5, 1.0];

impl Strip {
    fn words(&self) -> String {
        let leg = match self.legs.as_slice() {
            [leg] => format!("{} leg", leg.word()),
            _ => "both legs".to_owned(),
        };
        format!("{} line, {}, {leg}", self.line.name(), self.view.piece())
    }

    /// Its places, on the first leg.
    fn places(&self) -> impl Iterator<Item = LinePlace> {
        let leg = self.legs.first().copied().unwrap_or(Leg::Left);
        self.stations.iter().map(move |s| (self.line, self.view, leg, s.0))
    }

    /// The same places with nothing measured.
    fn unmeasured(&self) -> Self {
        let stations = self.stations.iter().map(|s| (s.0, None)).collect();
        Self { stations, ..self.clone() }
    }

    /// What of it cannot be, in words; a strip that was typed amiss is not read.
    fn out_of_range(&self, unit: Unit) -> Option<Remark> {
        let most = show_length(MOST_DROOP, unit);
        let far = |mm: &f64| mm.abs() > MOST_DROOP;
        if let Some((at, Some(mm))) = self.stations.iter().find(|s| s.1.as_ref().is_some_and(far)) {
            let (place, mm) = (place_words(self.line, *at), show_length(*mm, unit));
            let whole = format!("{mm} is out of range: a line hangs {most} low or high at most");
            let short = format!("out of range, {most} at most");
            return Some(Remark::fault(whole, short).of(&capital(&place)));
        }
        (self.error <= 0.0 || self.error >= MOST_DROOP).then(|| {
            let whole = format!("How far off may the ruler be? More than 0, less than {most}");
            Remark::fault(whole, format!("more than 0, less than {most}")).of("±")
        })
    }

    fn holds(&self, droop: &Droop) -> bool {
        (droop.line, droop.view) == (self.line, self.view) && self.legs.contains(&droop.leg)
    }

    fn droops(&self) -> impl Iterator<Item = Droop> {
        self.legs.iter().flat_map(|leg| {
            let of_leg = |&(at, mm): &(f64, Option<f64>)| {
                Some(Droop {
                    line: self.line,
                    view: self.view,
                    leg: *leg,
                    at,
                    mm: mm?,
                    error: self.error,
                })
            };
            self.stations.iter().filter_map(of_leg)
        })
    }
}

/// The strips of the open round: those that were begun and those written down, in
/// their order.
fn strips(own: &HangingCard, board: &Board) -> Vec<Strip> {
    let mut strips: Vec<Strip> = Vec::new();
    for droop in board.document().journal.droops_of(OPEN_ROUND) {
        let station = (droop.at, Some(droop.mm));
        match strips.iter_mut().find(|s| s.holds(droop)) {
            Some(strip) => strip.stations.push(station),
            None => strips.push(Strip {
                line: droop.line,
                view: droop.view,
                legs: vec![droop.leg],
                stations: vec![station],
                error: droop.error,
            }),
        }
    }
    for strip in &mut strips {
        for place in USUAL_PLACES {
            if strip.stations.iter().all(|s| (s.0 - place).abs() > SAME_PLACE) {
                strip.stations.push((place, None));
            }
        }
        strip.stations.sort_by(|a, b| a.0.total_cmp(&b.0));
    }
    let mut strips = alike_together(strips, &own.split);
    for begun in &own.begun {
        let free = |leg: &&Leg| {
            let same = |s: &Strip| (s.line, s.view) == (begun.line, begun.view);
            !strips.iter().any(|s| same(s) && s.legs.contains(leg))
        };
        let legs: Vec<Leg> = begun.legs.iter().filter(free).copied().collect();
        if own.split.contains(&(begun.line, begun.view)) {
            strips.extend(legs.into_iter().map(|leg| Strip { legs: vec![leg], ..begun.clone() }));
        } else if !legs.is_empty() {
            strips.push(Strip { legs, ..begun.clone() });
        }
    }
    strips
}

/// Left and right that say the same become one strip.
fn alike_together(strips: Vec<Strip>, split: &[(HangLine, PieceView)]) -> Vec<Strip> {
    let mut together: Vec<Strip> = Vec::new();
    for strip in strips {
        let alike = together.iter_mut().find(|t| {
            !split.contains(&(t.line, t.view))
                && (t.line, t.view, &t.stations, t.error)
                    == (strip.line, strip.view, &strip.stations, strip.error)
        });
        match alike {
            Some(same) => same.legs.extend(strip.legs),
            None => together.push(strip),
        }
    }
    together
}

/// Shows the strips and the form for another.
pub(super) fn show(
    (own, hang): (&mut HangingCard, &mut Hang),
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
) {
    part(ui, "How the lines hang, by ruler");
    aside(
        board,
        ui,
        "Measure against level: a spirit level held to the line, or a tape up from the floor. Ask before you kneel or reach in, and look out for pins. Plus hangs low, minus lies high, 0 is level; a place with ? was not measured. A line need not be level to be right: what it does on a toile that fits stands beside it. Left and right are the wearer's own.",
    );
    if ui.button("Save a fitting sheet to write on…").clicked() {
        requests.ask(Asked::SaveFitting);
    }
    let before = strips(own, board);
    look_home(own, hang, board, &before);
    let hangs = own.home.as_ref().map(|h| h.hangs.clone()).unwrap_or_default();
    let mut hangs = hangs.as_slice();
    for strip in &before {
        let (home, rest) = hangs.split_at(strip.stations.len().min(hangs.len()));
        hangs = rest;
        if let Some(new) = strip_rows(board, ui, strip, home) {
            replace(own, requests, strip, new);
        }
    }
    another(own, ui, &before);
}

/// What becomes of a strip that was edited.
enum Edited {
    To(Strip),
    Split,
    Gone,
}

fn strip_rows(
    board: &Board,
    ui: &mut Ui,
    strip: &Strip,
    home: &[Option<(f64, f64)>],
) -> Option<Edited> {
    let (palette, unit) = (board.palette, board.unit());
    let words = strip.words();
    let mut new = strip.clone();
    let mut edited = None;
    ui.add_space(2.0);
    ui.label(bold(capital(&words)));
    aside(board, ui, home_words(strip, home, unit));
    let mut told = None;
    let mut field = |ui: &mut Ui, place: &str, label: &str, mm: &mut Option<f64>, hint: &str| {
        // Its whole column goes to the next row where it does not fit into this one.
        let wide = ui.spacing().text_edit_width;
        let high = ui.text_style_height(&TextStyle::Small) + ui.spacing().interact_size.y + 8.0;
        ui.allocate_ui_with_layout(vec2(wide, high), Layout::top_down(Align::LEFT), |ui| {
            ui.small(place);
            let typed = typed_length(ui, label, mm, unit, hint);
            let refused = typed.refused.filter(|_| !is_being_typed(ui, label));
            let said = refused.map(Remark::refused).or_else(|| typed.as_inches.map(Remark::note));
            if let Some(said) = said {
                told = Some(said.of(&capital(place)));
            }
        });
    };
    ui.horizontal_wrapped(|ui| {
        // Each field is wide enough for a usual droop, so that none grows as it is typed.
        ui.spacing_mut().text_edit_width *= 0.55;
        let wide = wide_enough(ui, &show_length(-USUAL_AT_MOST, unit));
        ui.spacing_mut().text_edit_width = wide;
        for (at, mm) in &mut new.stations {
            let place = place_words(strip.line, *at);
            field(ui, &place, &format!("{words}, {place}"), mm, "?");
        }
        let mut error = Some(new.error);
        field(ui, "± of the ruler", &format!("{words}, plus or minus"), &mut error, "");
        new.error = error.unwrap_or(new.error);
    });
    let told = told.or_else(|| strip.out_of_range(unit));
    let room = room_of(ui, 1.0);
    say_in_room(ui, &palette, room, told);
    ui.horizontal_wrapped(|ui| {
        let free = [0.25, 0.75]
            .into_iter()
            .find(|s| strip.stations.iter().all(|station| (station.0 - s).abs() > 0.1));
        if let Some(free) = free {
            let button = ui.button("Add a place");
            name_field(ui, &button, &format!("Add a place to the {words}"));
            if button.clicked() {
                new.stations.push((free, Some(between(&strip.stations, free))));
            }
        }
        let level = |s: &(f64, Option<f64>)| s.1 == Some(0.0);
        let button = ui.add_enabled(!strip.stations.iter().all(level), Button::new("All level"));
        name_field(ui, &button, &format!("All level: {words}"));
        if button.clicked() {
            new.stations.iter_mut().for_each(|s| s.1 = Some(0.0));
        }
        if strip.legs.len() == 2 {
            let button = ui.button("Left and right differ");
            name_field(ui, &button, &format!("Left and right differ: {words}"));
            if button.clicked() {
                edited = Some(Edited::Split);
            }
        }
        let button = ui.button("Take it away");
        name_field(ui, &button, &format!("Take the {words} away"));
        if button.clicked() {
            edited = Some(Edited::Gone);
        }
    });
    if new != *strip {
        return Some(Edited::To(new));
    }
    edited
}

/// What a place that is added has to begin with: what lies straight between its
/// measured neighbours.
fn between(stations: &[(f64, Option<f64>)], at: f64) -> f64 {
    let measured: Vec<(f64, f64)> = stations.iter().filter_map(|s| Some((s.0, s.1?))).collect();
    let below = measured.iter().rfind(|s| s.0 <= at);
    let above = measured.iter().find(|s| s.0 >= at);
    match (below, above) {
        (Some(a), Some(b)) if b.0 > a.0 => a.1 + (b.1 - a.1) * (at - a.0) / (b.0 - a.0),
        (Some(a), _) => a.1,
        (None, Some(b)) => b.1,
        (None, None) => 0.0,
    }
}

/// The name of a place along a line.
fn place_words(line: HangLine, at: f64) -> String {
    let near = |place: f64| (at - place).abs() < 1e-6;
    if near(0.0) {
        line.inner_end().to_owned()
    } else if near(0.5) {
        "middle".to_owned()
    } else if near(1.0) {
        "side".to_owned()
    } else {
        format!("{:.0} %", 100.0 * at)
    }
}

fn replace(own: &mut HangingCard, requests: &mut Requests, old: &Strip, edited: Edited) {
    let (words, strips) = match edited {
        Edited::Split => return own.split.push((old.line, old.view)),
        Edited::To(strip) => (format!("how the {} hangs", strip.words()), vec![strip]),
        Edited::Gone => (format!("the {} taken away", old.words()), vec![]),
    };
    // The strip stays on the card when its measures are taken back.
    let begun = &mut own.begun;
    for same in begun.iter_mut().filter(|b| (b.line, b.view) == (old.line, old.view)) {
        same.legs.retain(|leg| !old.legs.contains(leg));
    }
    begun.retain(|b| !b.legs.is_empty());
    begun.extend(strips.iter().map(Strip::unmeasured));
    let old = old.clone();
    requests.edit_on(&words, move |d| {
        let droops = &mut d.journal.droops;
        let mine = |r: &RoundDroop| r.round == OPEN_ROUND && old.holds(&r.droop);
        let at = droops.iter().position(mine).unwrap_or(droops.len());
        droops.retain(|r| !mine(r));
        droops.splice(at..at, strips.iter().flat_map(Strip::droops).map(of_this_round));
    });
}

fn of_this_round(droop: Droop) -> RoundDroop {
    RoundDroop { round: OPEN_ROUND.into(), droop }
}

/// The form for another line.
fn another(own: &mut HangingCard, ui: &mut Ui, strips: &[Strip]) {
    let form = &mut own.form;
    ui.add_space(4.0);
    ui.horizontal_wrapped(|ui| {
        let line = ComboBox::from_id_salt("line").selected_text(form.line.name()).width(70.0);
        let line = drop_down(ui, line, |ui| {
            for line in HangLine::ALL {
                pick(ui, &mut form.line, line, line.name());
            }
        });
        name_id(ui, line.response.id, &format!("Line measured: {}", form.line.name()));
        let view = ComboBox::from_id_salt("view").selected_text(form.view.piece()).width(60.0);
        let view = drop_down(ui, view, |ui| {
            for view in PieceView::ALL {
                pick(ui, &mut form.view, view, view.piece());
            }
        });
        name_id(ui, view.response.id, &format!("Measured on the {}", form.view.piece()));
        let leg_words =
            |leg: Option<Leg>| leg.map_or("both legs".into(), |l| format!("{} leg", l.word()));
        let leg = ComboBox::from_id_salt("leg").selected_text(leg_words(form.leg)).width(80.0);
        let leg = drop_down(ui, leg, |ui| {
            for leg in [None, Some(Leg::Left), Some(Leg::Right)] {
                pick(ui, &mut form.leg, leg, leg_words(leg));
            }
        });
        name_id(ui, leg.response.id, &format!("Measured on {}", leg_words(form.leg)));
        let legs = form.leg.map_or(Leg::BOTH.to_vec(), |l| vec![l]);
        let stations = USUAL_PLACES.map(|place| (place, None)).to_vec();
        let new = Strip { line: form.line, view: form.view, legs, stations, error: BY_RULER };
        let same = |s: &&Strip| (s.line, s.view) == (new.line, new.view);
        let there =
            strips.iter().filter(same).any(|s| new.legs.iter().any(|leg| s.legs.contains(leg)));
        let button = ui.add_enabled(!there, egui::Button::new("Measure this line"));
        if there {
            ui.small("This line is there already.");
        }
        if button.clicked() {
            let first = place_words(new.line, USUAL_PLACES[0]);
            put_cursor_into(ui.ctx(), &format!("{}, {first}", new.words()));
            own.begun.push(new);
        }
    });
}
