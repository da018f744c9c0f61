//! What hangs from moved seams is hung anew: mating seams, notches, level lines.

use super::Bench;
use super::ends::slide_end;
use crate::ChangeError;
use hangtrue_geometry::Line;
use hangtrue_pattern::{End, Pattern, Place, Rule, rule};

impl Bench<'_> {
    /// Where two seams that are sewn together have grown apart, the second is let
    /// out or taken in at its far end, which is the hem.
    pub(super) fn match_joins(&mut self) -> Result<(), ChangeError> {
        for join in &self.before.joins {
            let Some(second) = &join.second else { continue };
            let length = |p: &Pattern, piece: &str, seam: &str| -> Result<f64, ChangeError> {
                Ok(p.piece(piece)?.seam(seam)?.sewn_length())
            };
            let first = &join.first;
            let grown = length(&self.now, &first.piece, &first.seam)?
                - length(&self.start, &first.piece, &first.seam)?;
            let wanted = length(&self.start, &second.piece, &second.seam)? + grown;
            let piece = self.now.piece_mut(&second.piece)?;
            slide_end(piece, &second.seam, second.from.other(), wanted)?;
        }
        Ok(())
    }

    /// The level at which something that lay at `level` lies now.
    pub(super) fn level_now(&self, piece: &str, level: f64) -> f64 {
        let mine = self.stretches.iter().filter(|(p, _)| p == piece);
        mine.fold(level, |level, (_, band)| band.at(level).0)
    }

    /// The sewn distance at which a place of a seam lies now: at its level, unless
    /// the seam does not pass there any more.
    fn hung(&self, piece: &str, seam: &str, from: End, distance: f64) -> Result<f64, ChangeError> {
        let was = self.start.piece(piece)?.seam(seam)?.place(from, distance).point;
        let level = self.level_now(piece, was.y);
        let seam = self.now.piece(piece)?.seam(seam)?;
        let line = Line::new((0.0, level), (1.0, level));
        let places = seam.crossings_with_line(line).into_iter();
        let mut places: Vec<f64> = places.map(|c| seam.distance_from(from, c.here)).collect();
        places.sort_by(|a, b| (a - distance).abs().total_cmp(&(b - distance).abs()));
        Ok(places.first().copied().unwrap_or(distance))
    }

    /// The piece and seam that leads another in a join: the first side.
    pub(super) fn lead(&self, piece: &str, seam: &str) -> Option<(String, String)> {
        let second = |j: &&hangtrue_pattern::Join| {
            j.second.as_ref().is_some_and(|s| s.piece == piece && s.seam == seam)
        };
        let join = self.before.joins.iter().find(second)?;
        Some((join.first.piece.clone(), join.first.seam.clone()))
    }

    pub(super) fn hang_notches(&mut self) -> Result<(), ChangeError> {
        for piece in self.start.pieces.clone() {
            for (index, notch) in piece.notches.iter().enumerate() {
                let mate = self.lead(&piece.name, &notch.seam).and_then(|(lead, seam)| {
                    let notches = &self.start.piece(&lead).ok()?.notches;
                    let same = notches
                        .iter()
                        .find(|n| n.name == notch.name && n.seam == seam && n.from == notch.from)?;
                    Some((lead, same.clone()))
                });
                // What meets in sewing moves by the same distance.
                let distance = match mate {
                    Some((lead, led)) => {
                        let now = self.hung(&lead, &led.seam, led.from, led.distance)?;
                        notch.distance + now - led.distance
                    }
                    None => self.hung(&piece.name, &notch.seam, notch.from, notch.distance)?,
                };
                self.now.piece_mut(&piece.name)?.notches[index].distance = distance;
            }
        }
        Ok(())
    }

    /// Lines square to the grain through a place of a seam stay at their level.
    pub(super) fn hang_lines(&mut self) -> Result<(), ChangeError> {
        // Where each line of `start` hangs now; none for one that stays.
        let mut hung: Vec<Option<f64>> = Vec::with_capacity(self.start.lines.len());
        for line in &self.start.lines {
            let Rule::SquareToGrain(rule::SquareToGrain { through: Place::Seam(place) }) =
                &line.rule
            else {
                hung.push(None);
                continue;
            };
            let mate = self.lead(&line.piece, &place.seam).and_then(|(lead, seam)| {
                let same = self.start.line(&lead, &line.name).ok()?;
                let Rule::SquareToGrain(rule::SquareToGrain { through: Place::Seam(led) }) =
                    &same.rule
                else {
                    return None;
                };
                (led.seam == seam && led.from == place.from).then(|| (lead, led.clone()))
            });
            let distance = match mate {
                Some((lead, led)) => {
                    place.distance + self.hung(&lead, &led.seam, led.from, led.distance)?
                        - led.distance
                }
                None => self.hung(&line.piece, &place.seam, place.from, place.distance)?,
            };
            hung.push((distance != place.distance).then_some(distance));
        }
        let (mut asked, mut moved) = (hung.iter(), hung.iter().flatten());
        self.now.lines.change_where(
            |_| asked.next().is_some_and(Option::is_some),
            |line| {
                if let Rule::SquareToGrain(rule::SquareToGrain { through: Place::Seam(place) }) =
                    &mut line.rule
                    && let Some(distance) = moved.next()
                {
                    place.distance = *distance;
                }
            },
        );
        Ok(())
    }
}
