//! The words list: every word of the trade that the desk or the command uses as a term,
//! said in plain words. It stands here once; the window and the command both show it.
//!
//! The meanings are common practice, no published source; where a word is used here in
//! a narrower way than elsewhere, the meaning says so.

/// A word of the trade and what it means here.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Term {
    /// The word, as it stands in the middle of a sentence.
    pub word: &'static str,
    /// What it means.
    pub means: &'static str,
}

const fn term(word: &'static str, means: &'static str) -> Term {
    Term { word, means }
}

/// All words, in the order of the alphabet.
pub const GLOSSARY: &[Term] = &[
    term(
        "actual size",
        "Shown on the screen as large as it is. The screen is measured once for it, in the desk's settings.",
    ),
    term(
        "allowance",
        "Paper beyond the line that is sewn: seam allowance at the seams, hem allowance at the hem. The pattern itself ends at the line that is sewn.",
    ),
    term(
        "as sewn",
        "How lines marked on flat pieces run once the seams are sewn: a line that is straight on paper can peak or dip at a seam.",
    ),
    term(
        "back",
        "The piece behind. One back serves both legs, cut once plain and once mirrored, until the legs are parted.",
    ),
    term(
        "bag",
        "The cloth of a pocket that hangs inside the trousers: what is put into it lies between its halves.",
    ),
    term(
        "block",
        "A plain pattern drafted from the body's measures and ease, without style. Everything else is a change of it.",
    ),
    term("body", "The person the trousers are fitted to, as measures."),
    term("casing", "A band folded over elastic, open at one place until the elastic is drawn in."),
    term(
        "causes",
        "What the droops and rises of a worn toile may come from, each with a change of the paper to try. The reading, in older words.",
    ),
    term(
        "centre seam",
        "The seam from the waist down to the crotch curve, in the middle of the back or of the front.",
    ),
    term(
        "cloth line",
        "A line that is traced to the cloth of the toile, so that it can be seen on the body. A paper line stays on paper.",
    ),
    term(
        "correction",
        "A change of the paper for the shape of a body that needs no pins: more room for a full seat, less length in the rise, and so on. The catalogue lists them.",
    ),
    term(
        "crotch",
        "Where the legs part. The crotch seam runs from the waist in front, under the body, to the waist behind.",
    ),
    term(
        "crotch curve",
        "The hollow lower part of the crotch seam, between the straight centre seam and the crotch point.",
    ),
    term(
        "crotch length",
        "The length of the whole crotch seam from waist to waist, under the body.",
    ),
    term("crotch point", "Where crotch seam and inseam meet: the innermost point of a piece."),
    term(
        "dart",
        "A wedge of cloth folded away and sewn, so that flat cloth goes round a body. Its mouth lies on a seam, its point within the piece.",
    ),
    term("digitise", "To make a piece of the project from a photo or scan of its card."),
    term("dip", "A line that is lowest at a seam. The opposite is to peak."),
    term("draft", "To draw a block from measures by rules."),
    term(
        "drag line",
        "A tight line in the cloth of a worn toile. It points to where cloth is lacking; a loose fold lies where there is too much.",
    ),
    term(
        "droop",
        "How far a place of a line of the worn toile hangs below level. A rise is a droop upward.",
    ),
    term(
        "ease",
        "What a garment measures more than the body, for moving and for the look. Also, to ease in: to sew a longer edge to a shorter one without folds.",
    ),
    term(
        "facing",
        "A piece sewn to an edge and turned to the inside, so that the edge is finished and what shows there is cloth.",
    ),
    term(
        "fitting",
        "One toile from paper to pins: marked, printed, sewn, tried on, changed. Closing it keeps the pattern as it stands. A round, in older words.",
    ),
    term(
        "fly",
        "An opening at the centre front: one edge lies over the other, with a facing behind it and a zip between.",
    ),
    term(
        "fold depth",
        "From the pins to the folded edge of a pinch: half of the cloth that is taken.",
    ),
    term("front", "The piece in front; it serves both legs, as the back does."),
    term(
        "grain",
        "The direction of the threads that run along the cloth. On a piece it is an arrow, and it hangs upright.",
    ),
    term("hem", "The lower end of a leg."),
    term(
        "hip balance line",
        "A line across seat and front, equally deep below the waist at the side seams and the centres, drawn to hang level on the toile. It lies above the hip line.",
    ),
    term(
        "hip line",
        "The level where the seat is fullest and the hip is measured. On the pattern it is square to the grain and stays on paper.",
    ),
    term(
        "home",
        "How a line hangs on a toile that fits. A straight line on a leg that tapers hangs lower in its middle than at its ends; only what is more or less than that is a fault.",
    ),
    term("inseam", "The seam at the inside of the leg, from the crotch point to the hem."),
    term("interfacing", "A layer behind the cloth that makes it firmer, at bands and facings."),
    term(
        "journal",
        "What was seen, measured and decided at each fitting, with photos, as pages to keep.",
    ),
    term(
        "kept pattern",
        "The pattern as it stood when a fitting was closed. It can be looked at, printed and compared later. A version, in older words.",
    ),
    term("knee", "The level of the knee, and the width of the leg there."),
    term(
        "lay plan",
        "Where each piece lies on the cloth before it is cut, and the length of cloth that takes. Pieces keep their grain along the cloth and lie over nothing else.",
    ),
    term(
        "leg",
        "Of the wearer, left or right. A piece is of both legs until left and right are parted.",
    ),
    term("let out", "To give cloth where there is too little: a pinch of a minus amount."),
    term(
        "level",
        "As a still water surface: what a line square to the grain should be on a toile that fits. Also the verb that finds from a photo how far lines are from it.",
    ),
    term(
        "line",
        "A reference line: drawn on the pieces by a rule, such as so far below the waist, and looked at on the body.",
    ),
    term("lining", "A second, thin cloth inside the trousers, cut as back and front are."),
    term(
        "measure",
        "A length taken on the body: a girth round it, or a height or length along it.",
    ),
    term(
        "method",
        "One of the ways flat paper can take up a pinch: top and scoop, slash and lap, even strip. They are compared side by side.",
    ),
    term(
        "nap",
        "A pile, sheen or print that looks different from the other end of the cloth: all pieces then lie the same way up.",
    ),
    term(
        "notch",
        "A short mark across a seam. Where two edges are sewn to each other their notches meet.",
    ),
    term("outline", "The edge of a piece, all round."),
    term(
        "overlap",
        "The strip where two printed sheets lie over each other when they are taped together.",
    ),
    term("paper line", "A line that stays on paper and is not traced to the cloth."),
    term(
        "part",
        "To give the left and the right leg pieces of their own, for an uneven body. Putting them together is the opposite.",
    ),
    term("patch pocket", "A pocket sewn on from outside, its upper edge hemmed and left open."),
    term("pattern", "All pieces with their seams, lines and notches."),
    term("peak", "A line that is highest at a seam. The opposite is to dip."),
    term(
        "piece",
        "One shape of paper or card that is cut from cloth: back or front, or what is cut besides them.",
    ),
    term(
        "pin place",
        "Where along a pinch the taken cloth was measured, and how much it was there. A station, in older words.",
    ),
    term(
        "pinch",
        "Cloth that is too much on the worn toile, folded away with pins along a line. Its amounts are measured before it is unpinned.",
    ),
    term("pinned", "Held by pins on the body. What was pinned is written down as a pinch."),
    term(
        "pleat",
        "Cloth laid in a fold at the waist and not sewn down to its end, so that it opens below.",
    ),
    term("pocketing", "A thin, firm cloth for the bags of pockets."),
    term(
        "print",
        "Pieces on paper at their actual size, on sheets that are taped together, on a roll, or for a projector.",
    ),
    term(
        "repeat",
        "The length after which a print begins again. Where it is matched, the hems of all legs lie at the same place of it.",
    ),
    term(
        "rise",
        "The height from the level of the crotch to the waist, sitting or standing. Of a place on a worn line: how far it lies above level.",
    ),
    term(
        "rule",
        "How a line is placed, so that it follows when its piece changes: so far below the waist, square to the grain, and so on.",
    ),
    term("scoop", "To hollow out the crotch curve."),
    term("seam", "An edge that is sewn, or two edges sewn to each other."),
    term("seat", "The back of the hips: what one sits on."),
    term("selvedge", "The firm woven edge at each side of a cloth. Pieces keep clear of it."),
    term("sheet", "One page of paper as it comes out of the printer."),
    term("shield", "The double piece behind a fly or a zip, which keeps it off the body."),
    term("side seam", "The seam at the outside of the leg, from the waist to the hem."),
    term(
        "slash and lap",
        "To cut a piece apart along a line and lay one part over the other, or apart from it.",
    ),
    term(
        "square",
        "At a right angle. A test square is printed to be measured: when it is as large as it says, so is the pattern.",
    ),
    term("step", "Where a line arrives at a seam higher or lower than it goes on behind it."),
    term(
        "style",
        "What is given to a pattern that fits: where the waist lies, how the leg falls, how long it is. It stands in the list and can be switched off.",
    ),
    term("surplus", "Cloth that is too much in one place."),
    term(
        "sway back",
        "A back that is more hollow above the seat than most; cloth folds there below the waist.",
    ),
    term(
        "take up",
        "To change the paper so that a pinch is no longer needed, by one of the methods.",
    ),
    term("thigh", "The level a little below the crotch, and the width of the leg there."),
    term(
        "toile",
        "The trousers sewn in cheap cloth to see how they fit, with the lines marked on it.",
    ),
    term("topstitching", "A line of stitches on the right side, through all layers."),
    term("trace", "To copy a line or an outline through to what lies below, with a tracing wheel."),
    term(
        "true",
        "To make a pattern agree with itself: seams that are sewn together as long as each other, corners smooth across seams, dart legs equal, curves fair.",
    ),
    term("turn-up", "The hem folded up over the outside of the leg."),
    term("under bag", "The half of a pocket's bag that lies against the body."),
    term("waist", "The upper edge of the pieces, and the level on the body where it is worn."),
    term(
        "waistband",
        "The piece that finishes the waist from outside: straight and folded along its middle, or shaped as the sewn waist is.",
    ),
    term(
        "walk",
        "To lay one edge of paper along the other as it will be sewn, from end to end, to see whether lengths and notches meet.",
    ),
    term("welt", "The narrow strip at the opening of a pocket that is cut in."),
    term(
        "yoke",
        "The upper part of the back, cut by itself and sewn to the back below it. The back’s darts are closed in it, so that it is round without them.",
    ),
];

/// The words that hold what is looked for, those that begin with it first; all when
/// nothing is looked for. Capitals do not matter, nor the difference of one and many.
pub fn look_up(wanted: &str) -> Vec<&'static Term> {
    let wanted = wanted.trim().to_lowercase();
    let one = wanted.strip_suffix('s').filter(|w| w.len() > 2).unwrap_or(&wanted);
    let is_in = |t: &&Term| t.word.contains(&wanted) || t.word.contains(one);
    let mut found: Vec<&Term> = GLOSSARY.iter().filter(is_in).collect();
    found.sort_by_key(|t| !t.word.starts_with(one));
    if found.is_empty() {
        found = GLOSSARY.iter().filter(|t| t.means.to_lowercase().contains(one)).collect();
    }
    found
}

/// What the word means; none when it is not in the list.
pub fn meaning(word: &str) -> Option<&'static str> {
    GLOSSARY.iter().find(|t| t.word == word).map(|t| t.means)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_stand_in_order_and_once() {
        for pair in GLOSSARY.windows(2) {
            assert!(pair[0].word < pair[1].word, "{} before {}", pair[0].word, pair[1].word);
        }
        for term in GLOSSARY {
            assert!(term.means.ends_with('.'), "{}: a whole sentence", term.word);
        }
    }

    #[test]
    fn a_word_is_found_as_it_is_typed() {
        assert_eq!(look_up("Darts")[0].word, "dart");
        assert_eq!(look_up("seam")[0].word, "seam");
        assert_eq!(look_up("crotch").len(), 4);
        // By an older word, in the meaning.
        assert_eq!(look_up("station")[0].word, "pin place");
        assert!(look_up("zeppelin").is_empty());
        assert_eq!(look_up("").len(), GLOSSARY.len());
    }
}
