//! Settles: home, the planted faults, and each remedy on its fault.

use crate::faults::{FAULTS, Fault, Planted, Remedy, TRIES, Try};
use hangtrue_adjust::{CATALOGUE, Change, GirthAt, Method, Outcome, Pinch, PinchChange};
use hangtrue_drape::body::{Breadths, Handles};
use hangtrue_drape::mesh::Grid;
use hangtrue_drape::{Options, Settled, Start, line_heights, settle_all, settle_on};
use hangtrue_pattern::units::Unit;
use hangtrue_pattern::{Measures, Pattern, Plan, names};
use hangtrue_tests::bodies::marked_block;
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;

/// One settling from one start.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct Row {
    pub body: String,
    /// `home`, `other mesh`, the fault's name, or remedy and fault.
    pub case: String,
    /// Whether the waist slipped.
    pub slipped: bool,
    /// By how much the remedy was made, mm.
    #[serde(default)]
    pub amount: f64,
    /// How much less room round the hip the remedy leaves, mm.
    pub hip_less: f64,
    /// Heights of the stations of hip balance, thigh and knee line, back and front, mm. Empty
    /// when there is none.
    pub heights: Vec<f64>,
    /// Why not.
    pub refused: Option<String>,
}

/// The case of nothing changed but the mesh, and of a body that is done with.
pub const OTHER_MESH: &str = "other mesh";
pub const DONE: &str = "done";
/// No remedy, and no room it takes.
const NONE: (f64, f64) = (0.0, 0.0);
pub const LINES: [&str; 3] = [names::HIP_BALANCE, names::THIGH, names::KNEE];
pub const PIECES: [&str; 2] = [names::BACK, names::FRONT];

/// The name of a try among the cases.
pub fn case_of(tried: &Try) -> String {
    let name = match tried.remedy {
        Remedy::Correction(name) => name.to_owned(),
        Remedy::Pinch(method) => format!("pinch under the seat, {method}"),
    };
    format!("{name} | {}", tried.fault)
}

pub fn planted(fault: &Fault, measures: &Measures, breadths: &Breadths) -> Planted {
    let mut planted =
        Planted { measures: measures.clone(), breadths: *breadths, handles: Handles::default() };
    (fault.plant)(&mut planted);
    planted
}

pub fn remedy(tried: &Try, pattern: &Pattern) -> Result<Outcome, String> {
    let change = match tried.remedy {
        Remedy::Correction(name) => {
            let listed = CATALOGUE.iter().find(|l| l.about.name == name);
            Change::Correct((listed.ok_or("not in the catalogue")?.with)(tried.amount))
        }
        Remedy::Pinch(method) => {
            let pinch = Pinch::in_the_middle("seat", names::BACK, names::THIGH, tried.amount);
            let found = Method::all(Unit::Mm).into_iter().find(|m| m.name() == method);
            Change::Pinch(PinchChange { pinch, method: found.ok_or("no such method")? })
        }
    };
    change.apply_for(pattern, None).map_err(|e| e.to_string())
}

/// On a mesh of that side, mm.
pub fn options(breadths: Breadths, side: f64) -> Options {
    Options {
        breadths,
        grids: vec![Grid { side, shift: (0.0, 0.0) }],
        starts: vec![Start { off: 10.0, lifted: 0.0 }],
        ..Options::default()
    }
}

/// Settles a body, handing over row after row.
pub struct Runner<'a> {
    pub body: &'a str,
    /// Of the mesh, mm.
    pub side: f64,
    /// Whether each is settled afresh, from the same start, rather than from the one rest at
    /// home.
    pub afresh: bool,
    /// Cases that are in the file already.
    pub has: &'a BTreeSet<String>,
    pub tell: &'a mut dyn FnMut(Row),
}

impl Runner<'_> {
    fn keep(
        &mut self,
        case: &str,
        (amount, hip_less): (f64, f64),
        made: Result<(&Pattern, &Settled), String>,
    ) {
        if self.has.contains(case) {
            return;
        }
        let read = made.and_then(|(pattern, settled)| {
            let rest = &settled.first;
            let heights = heights(pattern, &rest.sewn, &rest.places);
            Ok((rest.slipped, heights.ok_or("a line left the cloth")?))
        });
        let (slipped, heights, refused) = match read {
            Ok((slipped, heights)) => (slipped, heights, None),
            Err(why) => (false, Vec::new(), Some(why)),
        };
        let (body, case) = (self.body.to_owned(), case.to_owned());
        (self.tell)(Row {
            body,
            case,
            slipped,
            amount,
            hip_less: round(hip_less),
            heights,
            refused,
        });
    }

    /// All settlings of a body. An error where there is no block, or where its waist slips
    /// at home: such a toile should not be read.
    pub fn run(&mut self, measures: &Measures, breadths: &Breadths) -> Result<(), String> {
        let pattern = marked_block(measures, &Plan::default()).ok_or("no block")?;
        let usual = options(*breadths, self.side);
        let even = Handles::default();
        let home = settle_all(&pattern, measures, &even, &usual, &mut |_| true)
            .map_err(|e| e.to_string())?;
        if home.first.slipped {
            return Err("its waist slips at home".into());
        }
        self.keep("home", NONE, Ok((&pattern, &home)));
        let afresh = self.afresh;
        let settle = |pattern: &Pattern, planted: &Planted, options: &Options| {
            let options = Options { breadths: planted.breadths, ..options.clone() };
            let Planted { measures, handles, .. } = planted;
            let settled = if afresh {
                settle_all(pattern, measures, handles, &options, &mut |_| true)
            } else {
                settle_on(pattern, measures, handles, &options, &home.first, &mut |_| true)
            };
            settled.map_err(|e| e.to_string())
        };
        let plain = Planted {
            measures: measures.clone(),
            breadths: *breadths,
            handles: Handles::default(),
        };
        let mut shifted = usual.clone();
        shifted.grids[0].shift = (0.4, 0.3);
        if !self.has.contains(OTHER_MESH) {
            let other = settle(&pattern, &plain, &shifted);
            let made = other.as_ref().map(|s| (&pattern, s)).map_err(Clone::clone);
            self.keep(OTHER_MESH, NONE, made);
        }
        for fault in FAULTS {
            let planted = planted(fault, measures, breadths);
            if !self.has.contains(fault.name) {
                let hung = settle(&pattern, &planted, &usual);
                let made = hung.as_ref().map(|s| (&pattern, s)).map_err(Clone::clone);
                self.keep(fault.name, NONE, made);
            }
            let open = |t: &&Try| t.fault == fault.name && !self.has.contains(&case_of(t));
            let open: Vec<&Try> = TRIES.iter().filter(open).collect();
            for tried in open {
                let case = case_of(tried);
                let outcome = match remedy(tried, &pattern) {
                    Ok(outcome) => outcome,
                    Err(why) => {
                        self.keep(&case, (tried.amount, 0.0), Err(why));
                        continue;
                    }
                };
                let hip = outcome.costs.iter().find(|c| c.place == GirthAt::Hip);
                let less = hip.map_or(0.0, |c| c.before - c.after);
                let after = settle(&outcome.pattern, &planted, &usual);
                let made = after.as_ref().map(|s| (&outcome.pattern, s)).map_err(Clone::clone);
                self.keep(&case, (tried.amount, less), made);
            }
        }
        let all = Err("all of this body is settled".to_owned());
        self.keep(DONE, NONE, all);
        Ok(())
    }
}

fn heights(
    pattern: &Pattern,
    sewn: &hangtrue_drape::Sewn,
    places: &[hangtrue_drape::Position],
) -> Option<Vec<f64>> {
    let lines = line_heights(pattern, sewn, places);
    let mut all = Vec::new();
    for line in LINES {
        for piece in PIECES {
            let found = lines.iter().find(|l| l.piece == piece && l.line == line)?;
            all.extend(found.heights.iter().map(|h| round(*h)));
        }
    }
    Some(all)
}

/// To a hundredth of a mm.
fn round(mm: f64) -> f64 {
    (mm * 100.0).round() / 100.0
}
