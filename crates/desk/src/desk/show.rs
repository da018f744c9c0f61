//! Drawing the desk: each room reads the board and gives out requests, which are
//! applied once the room is drawn, so that the next one shows what was done.

use super::apply::apply;
use super::state::Desk;
use super::{files, keys, outside};
use crate::board::requests::Requests;
use crate::edges::{help, list, ribbon, told};
use crate::kit::panels::Panels;
use crate::kit::theme;
use crate::table::tape;
use crate::{cards, exchange, hang, lay, table, toile, tracing, welcome};
use egui::{CentralPanel, Context, Frame, Margin, Panel, Rect, Ui};

impl Desk {
    /// Draws the desk and takes what is done to it.
    pub fn show(&mut self, ui: &mut Ui) {
        let ctx = ui.ctx().clone();
        if !self.dressed {
            theme::dress(&ctx, &self.board.palette, self.board.settings.letters);
            self.dressed = true;
            // This picture was begun in the old colours: it is drawn again, unseen.
            ctx.request_discard("the desk was dressed");
        }
        self.look_at_the_day();
        keys::take(self, &ctx);
        files::heard::take_dropped(self, &ctx);
        outside::notice::look(self, &ctx);
        self.recompute();
        self.room(&ctx, |desk, requests| {
            hang::go_on(&mut desk.cards.hang, &desk.board, requests, &ctx);
        });
        if self.tracing.is_some() {
            self.show_tracing(ui);
        } else if self.welcome.is_open() {
            let ctx = ui.ctx().clone();
            self.room(&ctx, |desk, requests| {
                welcome::show(&mut desk.welcome, &desk.board, requests, ui);
            });
        } else {
            self.show_table(ui);
        }
        self.show_windows(&ctx);
        let unsaved = self.is_unsaved();
        let (now, held) = (self.board.history.now(), self.board.filed.held());
        self.recovery.keep(now, held, unsaved, &ctx);
        self.board.unkept.clone_from(&self.recovery.fault);
        if self.board.dirty {
            ctx.request_repaint();
        }
        self.field = ctx.memory(|m| m.focused()).filter(|_| ctx.text_edit_focused());
    }

    /// Draws a room and applies what it asks for.
    pub(super) fn room<R>(
        &mut self,
        ctx: &Context,
        draw: impl FnOnce(&mut Self, &mut Requests) -> R,
    ) -> R {
        let mut requests = Requests::default();
        let drawn = draw(self, &mut requests);
        apply(self, requests, ctx);
        drawn
    }

    /// The table, and what lies round it.
    fn show_table(&mut self, ui: &mut Ui) {
        let ctx = ui.ctx().clone();
        let panels = Panels::of(ctx.content_rect().size(), self.board.settings.letters);
        let head = self.side(0);
        self.room(&ctx, |desk, requests| {
            Panel::top("stages")
                .frame(head)
                .show_separator_line(false)
                .show(ui, |ui| ribbon::show(desk.own_folder.as_deref(), &desk.board, requests, ui));
        });
        if panels.low {
            // The panel has all of the height; what is told and the tape lie under the table.
            self.show_card(panels, ui);
            let foot = self.side(8);
            self.room(&ctx, |desk, requests| {
                Panel::bottom("told")
                    .frame(foot)
                    .show_separator_line(false)
                    .show(ui, |ui| told::at_foot(&desk.board, requests, ui));
            });
            self.show_tape(ui);
        } else {
            self.show_tape(ui);
            if !panels.one_place {
                let frame = self.side(12);
                self.room(&ctx, |desk, requests| {
                    Panel::left("fitting")
                        .frame(frame)
                        .exact_size(panels.list)
                        .resizable(false)
                        .show(ui, |ui| list::show(&mut desk.list, &desk.board, requests, ui));
                });
            }
            self.show_card(panels, ui);
        }
        self.recompute();
        self.room(&ctx, |desk, requests| {
            CentralPanel::default().frame(Frame::NONE).show(ui, |ui| {
                let shown = toile::show_on_table(&mut desk.cards.toile, &desk.board, requests, ui)
                    || hang::show_on_table(&mut desk.cards.hang, &desk.board, ui)
                    || lay::show_on_table(&mut desk.cards.lay, &desk.board, requests, ui);
                if !shown {
                    let own = (&mut desk.table, &mut desk.cards.tools);
                    table::show(own, &desk.board, requests, ui);
                }
            });
        });
    }

    /// The ground of what lies round the table.
    fn side(&self, margin: i8) -> Frame {
        Frame::new().fill(self.board.palette.card).inner_margin(Margin::same(margin))
    }

    /// The measuring tape along the bottom edge. The toile on the body is turned and the
    /// cloth laid on, neither is measured.
    fn show_tape(&mut self, ui: &mut Ui) {
        if hang::lies_on_table(&self.cards.hang, &self.board)
            || lay::lies_on_table(&self.cards.lay, &self.board)
        {
            return;
        }
        let frame = self.side(0);
        self.room(&ui.ctx().clone(), |desk, requests| {
            Panel::bottom("tape").frame(frame).show_separator_line(false).show(ui, |ui| {
                let photo = toile::lies_on_table(&desk.cards.toile, &desk.board);
                let toile = &mut desk.cards.toile;
                let canvas = toile.canvas.unwrap_or(Rect::NOTHING);
                let photo = photo.then_some((&mut toile.view, canvas));
                tape::show((&mut desk.table, photo), &desk.board, requests, ui);
            });
        });
    }

    /// The card at the right, or the list where both lie in one place.
    fn show_card(&mut self, panels: Panels, ui: &mut Ui) {
        let list_in_front = panels.one_place && self.board.list_in_front;
        let frame = self.side(14);
        self.room(&ui.ctx().clone(), |desk, requests| {
            Panel::right("card").frame(frame).exact_size(panels.card).resizable(false).show(
                ui,
                |ui| {
                    if list_in_front {
                        list::show(&mut desk.list, &desk.board, requests, ui);
                    } else {
                        cards::show(&mut desk.cards, &desk.board, requests, ui);
                    }
                },
            );
        });
    }

    /// The photos being traced, in place of the table.
    fn show_tracing(&mut self, ui: &mut Ui) {
        let ctx = ui.ctx().clone();
        let ended = self.room(&ctx, |desk, requests| {
            let own_folder = desk.own_folder.as_deref();
            let photo = desk.tracing.as_mut()?;
            tracing::show(photo, own_folder, &desk.board, requests, ui).then_some(())
        });
        if ended.is_some()
            && let Some(mut photo) = self.tracing.take()
            && let Some(own) = &self.own_folder
        {
            photo.forget_beside(own);
        }
    }

    /// The small windows that are open.
    fn show_windows(&mut self, ctx: &Context) {
        self.room(ctx, |desk, requests| help::show(&mut desk.help, &desk.board, requests, ctx));
        self.room(ctx, |desk, requests| {
            exchange::windows(&mut desk.exchange, &desk.board, requests, ctx);
        });
        self.room(ctx, |desk, requests| {
            toile::take_in::window(&mut desk.cards.toile, &desk.board, requests, ctx);
        });
        files::windows(self, ctx);
    }
}
