//! Writing what is not the project itself: prints, plans, drawings, journals.

use crate::board::Board;
use crate::board::asked::Asked;
use crate::desk::state::Desk;
use crate::exchange;
use hangtrue_files::print::print_mark;
use std::path::Path;

/// Writes what is not the project itself; gives what is told of it.
pub(super) fn write(desk: &mut Desk, asked: Asked, path: &Path) -> Result<String, String> {
    let Desk { board, cards, exchange, tracing, own_folder, recovery, .. } = desk;
    match asked {
        Asked::SavePdf => {
            let told = crate::cards::print::save_pdf(board, path)?;
            was_printed(board);
            recovery.work_done();
            Ok(told)
        }
        Asked::SaveMarking => crate::cards::print::save_marking(board, path),
        Asked::SaveMeasuring => crate::cards::print::save_measuring(board, path),
        Asked::SaveFitting => crate::cards::print::save_fitting(board, path),
        Asked::SaveSewing(sewn_as) => crate::cards::print::save_sewing(board, sewn_as, path),
        Asked::SaveHandout(reduced) => crate::cards::print::save_handout(board, reduced, path),
        Asked::SaveClassList => exchange::class::save_blank(board, path),
        Asked::SaveHang => cards.hang.save_picture(board, path),
        Asked::SaveLayPlan => cards.lay.save(board, None, path),
        Asked::SaveLay(file) => cards.lay.save(board, Some(file), path),
        Asked::SaveJournal => exchange.give.write_journal(board, path),
        Asked::HandOn => exchange.give.hand_on(board, path),
        Asked::SaveJob => match tracing {
            Some(photo) => photo.save_job(path, own_folder.as_deref()),
            None => Err("no photo is being digitised".into()),
        },
        Asked::SaveStraight => match tracing {
            Some(photo) => photo.save_straight(path),
            None => Err("no photo is being digitised".into()),
        },
        Asked::Send(_) => exchange.send.write(board, path),
        _ => Err("nothing is written for that".into()),
    }
}

/// The project remembers that it was printed as it is. Where nothing else is to be
/// saved, that is saved at once: printing is no work to be lost.
fn was_printed(board: &mut Board) {
    let was_saved = !board.is_unsaved();
    let mut document = board.document().clone();
    document.printing.printed = print_mark(&document);
    board.history.amend(document);
    board.dirty = true;
    if !was_saved {
        return;
    }
    let now = board.history.now().clone();
    match board.filed.held().cloned() {
        None => board.filed.is_as_saved(now),
        Some(mut held) => {
            if held.save(&now).is_ok() {
                board.filed.saved_at(held, now);
            }
        }
    }
}
