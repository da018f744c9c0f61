//! Why a remedy may not help in this model, written by hand after looking. None was tried
//! out by changing the model; they are what the model is known to leave out.

/// By the beginning of a case, the likely reason.
const REASONS: &[(&str, &str)] = &[
    (
        "full seat",
        "The handle keeps hip girth and crotch length, so the way over and under the seat is in all no longer than before; the lines hardly ask for length there.",
    ),
    (
        "centre back lean",
        "It goes the right way only in part; a seat’s handle at a kept hip girth hardly moves the lines.",
    ),
    (
        "flat seat",
        "A flat seat with the same hip girth is fuller elsewhere; the surplus under it does not show in these lines of this model.",
    ),
    ("seat seam out", "As the flat seat."),
    ("dart turned", "It moves width, not length; lines hardly see it."),
    (
        "pinch",
        "What is pinned under the seat on a worn toile (a fold that lies there) is not in this model at the start: no surplus was planted in the block, only a body that should leave one.",
    ),
    ("low seat", "A seat fullest lower moves the lines no more than another mesh does."),
    ("dart length", "A seat fullest lower moves the lines no more than another mesh does."),
    (
        "sway back",
        "It goes the contrary way: the handle makes the way down the back longer while the band is held level, so the lines rise at the centre back; the trade’s fold comes of a waist that tilts, and no handle tips it.",
    ),
    ("flat tummy", "The fault lies near what another mesh makes of nothing."),
    (
        "thin thigh",
        "Width at the thigh is hardly read from lines across; the fault lies near nothing.",
    ),
    ("full inner thigh", "Width at the thigh is hardly read from lines across."),
    ("full outer thigh", "Width at the thigh is hardly read from lines across."),
    (
        "centre back let out",
        "The model’s band draws the waist to the body’s own girth whatever is cut, so a waist girth that is wrong is no fault in it.",
    ),
    (
        "waist at",
        "The model’s band draws the waist to the body’s own girth whatever is cut, so a waist girth that is wrong is no fault in it.",
    ),
    (
        "dart width",
        "The model’s band draws the waist to the body’s own girth whatever is cut, so a waist girth that is wrong is no fault in it.",
    ),
    (
        "hip",
        "It gives room, which is what a larger hip asks for; lines across tell of length, and the room it gave is in the table.",
    ),
];

/// The likely reason.
pub fn reason(case: &str) -> &'static str {
    let found = REASONS.iter().find(|(start, _)| case.starts_with(start));
    found.map_or("Too few bodies for a verdict, or a cause that was not looked for.", |r| r.1)
}
