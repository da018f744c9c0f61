//! Reading a toile and changing the flat pattern.
//!
//! Every change takes a pattern and gives an [`Outcome`]: the new pattern, the
//! measures it kept and changed, and what flat paper cannot hold. Millimetres
//! throughout.

mod as_sewn;
mod beside;
mod bring_in;
mod change;
pub mod corrections;
mod cost;
mod cutting;
mod differences;
mod distribute;
mod document;
pub mod draw;
mod drawn_otherwise;
mod error;
pub mod figure;
mod flat_measure;
pub mod glossary;
mod home;
mod hook;
mod journal;
mod lap;
mod lay;
mod leg_difference;
pub mod limits;
mod mark_line;
mod measured;
mod moved;
mod notches_on_cloth;
mod on_cloth;
mod one_leg;
mod outcome;
mod part_legs;
mod pinch;
mod printing;
mod pull_line;
pub mod reading;
mod replay;
#[cfg(test)]
mod ron_text;
#[cfg(test)]
mod sample;
mod slash_and_lap;
pub mod style;
mod take;
mod top_and_scoop;
mod truing;
mod usual;
mod waist;
mod walk;
pub mod worn;
mod yoke;

pub use as_sewn::{
    BEND_SEEN, BESIDE_SEAM, Bend, STEP_SEEN, SeamReading, laid_across, read_as_sewn,
    what_stands_out,
};
pub use beside::{LESS_LEAN, less_lean_beside};
pub use bring_in::BringIn;
pub use change::{Change, CloseRound, Method, PinchChange};
pub use corrections::{AtDart, CATALOGUE, Correction, Handle};
pub use cost::{Cost, GirthAt, costs};
pub use cutting::{
    AllowanceSet, BackPocket, BackSizes, Closure, CuttingPlan, FrontPocket, FrontSizes, Opening,
    Pockets, SeamWidth, SetWidths, UsualCut, WaistFinish,
};
pub use differences::{Difference, Differs, differences};
pub use distribute::{Distribute, EASE_LIMIT, EASE_SHOWS, Mates};
pub use document::{Document, Entry, Start};
pub use draw::Draw;
pub use drawn_otherwise::{DRAWN_ALIKE, DrawnOtherwise, drawn_otherwise};
pub use error::ChangeError;
pub use figure::Figure;
pub use flat_measure::{FlatMeasure, LegMeasure, Quantity};
pub use home::{HOME_ERROR, HomeShape, home_shapes};
pub use journal::{
    Journal, NoteKind, OPEN_ROUND, PhotoView, RoundDroop, RoundNote, RoundPhoto, RoundSign, TODAY,
    TODAYS_PATTERN,
};
pub use lay::{ClothLay, LaidPiece, Lays, Nap, OwnShrinkage, Shrinkage, UsualLay};
pub use leg_difference::{LegDifference, leg_differences, seams_apart};
pub use limits::LimitError;
pub use mark_line::{EraseLine, MarkLine, UsualDepths, usual_lines};
pub use measured::{Counted, MeasuredPin, MeasuredPlace, TAPE_AGREES, seam_called};
pub use moved::{MOVED, Moved, What, moved};
pub use on_cloth::rule_lies_below;
pub use one_leg::{OneLeg, legs_named};
pub use outcome::{Compared, KEPT, Outcome, Residue, SEEN, Shown};
pub use part_legs::{JoinLegs, PartLegs, SAME_LEGS};
pub use pinch::{LaidPinch, PINS_ON_A_BODY, Pinch, PinchPath, STEEPEST, Station, StationPlace};
pub use printing::{PaperName, Printing, Usual};
pub use pull_line::{length_through, pulled_length, with_pulled_length};
pub use replay::{Applied, Effect, Replay, StartError, State};
pub use slash_and_lap::{Proposal, SecondCut, Share, SlashAndLap, propose};
pub use style::{STYLES, Style};
pub use take::{Taken, compare_measures, take_measures};
pub use top_and_scoop::TopAndScoop;
pub use truing::{Side, TrueCorner, TrueDart, TrueLength, left_to_true};
pub use walk::{
    CORNER_TRUE, FoldedDart, LENGTH_TRUE, SewnCorner, Stretch, Walked, fold_darts, walk, walk_all,
};
pub use yoke::{Yoke, YokeDepths, yoke_at, yoke_of};
