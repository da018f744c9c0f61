//! The reference lines of a pattern, in order. Patterns that follow each other
//! share all lines that did not change, and a line is found by its name without
//! looking at the others.

use crate::{ReferenceLine, Shared};
use hangtrue_geometry::Chain;
use rpds::{HashTrieMapSync, RedBlackTreeMapSync, RedBlackTreeSetSync};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::collections::BTreeSet;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::ops::{Index, IndexMut};

/// Where a line stands in the order; it keeps its number when others go.
type Number = u64;

/// An ordered list of reference lines.
#[derive(Clone, Default)]
pub struct Lines {
    lines: RedBlackTreeMapSync<Number, Shared<ReferenceLine>>,
    /// Numbers by the hash of piece and name; what is found is compared. None after
    /// lines were changed in place: then names are looked for one by one until the
    /// next line is added.
    by_name: Option<HashTrieMapSync<u64, Vec<Number>>>,
    /// Lines that hang between two others: they move when those do.
    between: RedBlackTreeSetSync<Number>,
    /// The number of the next line.
    next: Number,
    /// Lines added or changed since all were placed.
    touched: BTreeSet<Number>,
    /// Lines laid on the cloth since then: where they lie is known.
    laid: BTreeSet<Number>,
}

fn hash_of(piece: &str, name: &str) -> u64 {
    let mut hasher = DefaultHasher::new();
    (piece, name).hash(&mut hasher);
    hasher.finish()
}

impl Lines {
    /// How many there are.
    pub fn len(&self) -> usize {
        self.lines.size()
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.lines.is_empty()
    }

    /// The lines in order.
    pub fn iter(&self) -> impl DoubleEndedIterator<Item = &ReferenceLine> {
        self.lines.values().map(|l| &**l)
    }

    /// The lines in order, as they are shared.
    pub fn shared(&self) -> impl DoubleEndedIterator<Item = &Shared<ReferenceLine>> {
        self.lines.values()
    }

    /// The first line of that name on that piece.
    pub fn named(&self, piece: &str, name: &str) -> Option<&ReferenceLine> {
        self.number_of(piece, name).and_then(|n| self.lines.get(&n)).map(|l| &**l)
    }

    /// Lays that line on the cloth along a chain that ends on the outline, or by its rule
    /// again; it keeps its name, so that others are still found without looking at all.
    pub fn lay_on_cloth(&mut self, piece: &str, name: &str, cloth: Option<Chain>) {
        let Some(number) = self.number_of(piece, name) else { return };
        if self.numbered(number).is_none_or(|line| line.cloth == cloth) {
            return;
        }
        self.touched.insert(number);
        let Some(line) = self.lines.get_mut(&number) else { return };
        if cloth.is_some() {
            self.laid.insert(number);
            line.last.clone_from(&cloth);
        }
        line.cloth = cloth;
    }

    /// Whether the line was laid on the cloth since all were placed.
    pub(crate) fn is_laid(&self, number: Number) -> bool {
        self.laid.contains(&number)
    }

    fn number_of(&self, piece: &str, name: &str) -> Option<Number> {
        let fits = |l: &ReferenceLine| l.piece == piece && l.name == name;
        match &self.by_name {
            Some(index) => {
                let found = index.get(&hash_of(piece, name))?;
                found.iter().copied().find(|n| self.lines.get(n).is_some_and(|l| fits(l)))
            }
            None => self.lines.iter().find(|(_, l)| fits(l)).map(|(n, _)| *n),
        }
    }

    /// A line to change in place: its name may be another afterwards.
    fn changed(&mut self, number: Number) -> Option<&mut ReferenceLine> {
        self.by_name = None;
        self.touched.insert(number);
        // Looked at again when the lines are placed.
        self.between.insert_mut(number);
        self.lines.get_mut(&number).map(|l| &mut **l)
    }

    /// Adds a line at the end.
    pub fn push(&mut self, line: ReferenceLine) {
        self.push_shared(line.into());
    }

    fn push_shared(&mut self, line: Shared<ReferenceLine>) {
        let number = self.next;
        self.next += 1;
        let index = self.by_name.get_or_insert_with(|| index_of(&self.lines));
        enter(index, number, &line);
        if !line.rule.lines().is_empty() {
            self.between.insert_mut(number);
        }
        self.touched.insert(number);
        self.lines.insert_mut(number, line);
    }

    /// Takes every line of that name off that piece; whether there was one.
    pub fn remove(&mut self, piece: &str, name: &str) -> bool {
        self.by_name.get_or_insert_with(|| index_of(&self.lines));
        let mut any = false;
        while let Some(number) = self.number_of(piece, name) {
            self.take(number);
            any = true;
        }
        any
    }

    fn take(&mut self, number: Number) -> Option<Shared<ReferenceLine>> {
        let line = self.lines.get(&number)?.clone();
        self.lines.remove_mut(&number);
        self.between.remove_mut(&number);
        self.touched.remove(&number);
        self.laid.remove(&number);
        if let Some(index) = &mut self.by_name {
            let hash = hash_of(&line.piece, &line.name);
            let rest: Vec<Number> =
                index.get(&hash).into_iter().flatten().copied().filter(|n| *n != number).collect();
            if rest.is_empty() {
                index.remove_mut(&hash);
            } else {
                index.insert_mut(hash, rest);
            }
        }
        Some(line)
    }

    /// Takes the last line away and gives it back.
    pub fn pop(&mut self) -> Option<ReferenceLine> {
        let number = *self.lines.last()?.0;
        self.take(number).map(Shared::into_inner)
    }

    /// Takes all lines away.
    pub fn clear(&mut self) {
        *self = Self::default();
    }

    /// Keeps only the lines that fit.
    pub fn retain(&mut self, mut fits: impl FnMut(&ReferenceLine) -> bool) {
        let gone: Vec<Number> =
            self.lines.iter().filter(|(_, l)| !fits(l)).map(|(n, _)| *n).collect();
        for number in gone {
            self.take(number);
        }
    }

    /// Puts the lines into another order.
    pub fn sort_by(
        &mut self,
        mut order: impl FnMut(&ReferenceLine, &ReferenceLine) -> std::cmp::Ordering,
    ) {
        let mut lines: Vec<Shared<ReferenceLine>> = self.lines.values().cloned().collect();
        lines.sort_by(|a, b| order(a, b));
        self.clear();
        lines.into_iter().for_each(|l| self.push_shared(l));
    }

    /// Changes the lines that fit; the others stay shared. All are asked in order
    /// before the first is changed.
    pub fn change_where(
        &mut self,
        mut fits: impl FnMut(&ReferenceLine) -> bool,
        mut change: impl FnMut(&mut ReferenceLine),
    ) {
        let found: Vec<Number> =
            self.lines.iter().filter(|(_, l)| fits(l)).map(|(n, _)| *n).collect();
        if found.is_empty() {
            return;
        }
        self.touched.extend(&found);
        self.by_name = None;
        for number in found {
            self.between.insert_mut(number);
            if let Some(line) = self.lines.get_mut(&number) {
                change(line);
            }
        }
    }

    /// The numbers of the lines to place anew: the touched ones, those that `moved`
    /// says hang from what has moved, and those between any of them. Looks through
    /// all lines only when `any_moved`.
    pub(crate) fn to_place(
        &self,
        any_moved: bool,
        moved: impl Fn(&ReferenceLine) -> bool,
    ) -> Vec<Number> {
        let mut found = self.touched.clone();
        if any_moved {
            found.extend(self.lines.iter().filter(|(_, l)| moved(l)).map(|(n, _)| *n));
        }
        if found.is_empty() || self.between.is_empty() {
            return found.into_iter().collect();
        }
        let mut names: std::collections::HashSet<(&str, &str)> = found
            .iter()
            .filter_map(|n| self.lines.get(n))
            .map(|l| (l.piece.as_str(), l.name.as_str()))
            .collect();
        loop {
            let before = found.len();
            for number in self.between.iter().filter(|n| !found.contains(n)).collect::<Vec<_>>() {
                let Some(line) = self.lines.get(number) else { continue };
                let hangs_from = line.rule.lines();
                if hangs_from.iter().any(|n| names.contains(&(line.piece.as_str(), *n))) {
                    names.insert((&line.piece, &line.name));
                    found.insert(*number);
                }
            }
            if found.len() == before {
                return found.into_iter().collect();
            }
        }
    }

    /// The line of that number.
    pub(crate) fn numbered(&self, number: Number) -> Option<&ReferenceLine> {
        self.lines.get(&number).map(|l| &**l)
    }

    /// Sets where a line lies now, when it lies elsewhere.
    pub(crate) fn set_last(&mut self, number: Number, last: Chain) {
        let same = self.numbered(number).is_none_or(|l| l.last.as_ref() == Some(&last));
        if !same && let Some(line) = self.lines.get_mut(&number) {
            line.last = Some(last);
        }
    }

    /// All lines are placed: none is new any more.
    pub(crate) fn all_placed(&mut self) {
        self.laid.clear();
        for number in std::mem::take(&mut self.touched) {
            let hangs = self.lines.get(&number).map(|l| !l.rule.lines().is_empty());
            if hangs != Some(true) && self.between.contains(&number) {
                self.between.remove_mut(&number);
            }
        }
    }
}

fn index_of(
    lines: &RedBlackTreeMapSync<Number, Shared<ReferenceLine>>,
) -> HashTrieMapSync<u64, Vec<Number>> {
    let mut index = HashTrieMapSync::default();
    for (number, line) in lines {
        enter(&mut index, *number, line);
    }
    index
}

fn enter(index: &mut HashTrieMapSync<u64, Vec<Number>>, number: Number, line: &ReferenceLine) {
    let hash = hash_of(&line.piece, &line.name);
    match index.get_mut(&hash) {
        Some(found) => found.push(number),
        None => index.insert_mut(hash, vec![number]),
    }
}

impl Index<usize> for Lines {
    type Output = ReferenceLine;

    #[allow(clippy::panic)] // as every index past the end of a list
    fn index(&self, index: usize) -> &ReferenceLine {
        match self.lines.values().nth(index) {
            Some(line) => line,
            None => panic!("there are {} lines and none at {index}", self.len()),
        }
    }
}

impl IndexMut<usize> for Lines {
    #[allow(clippy::panic)] // as every index past the end of a list
    fn index_mut(&mut self, index: usize) -> &mut ReferenceLine {
        let (count, number) = (self.len(), self.lines.keys().nth(index).copied());
        match number.and_then(|n| self.changed(n)) {
            Some(line) => line,
            None => panic!("there are {count} lines and none at {index}"),
        }
    }
}

impl Extend<ReferenceLine> for Lines {
    fn extend<I: IntoIterator<Item = ReferenceLine>>(&mut self, lines: I) {
        lines.into_iter().for_each(|l| self.push(l));
    }
}

impl Extend<Shared<ReferenceLine>> for Lines {
    fn extend<I: IntoIterator<Item = Shared<ReferenceLine>>>(&mut self, lines: I) {
        lines.into_iter().for_each(|l| self.push_shared(l));
    }
}

impl<T> FromIterator<T> for Lines
where
    Self: Extend<T>,
{
    fn from_iter<I: IntoIterator<Item = T>>(lines: I) -> Self {
        let mut all = Self::default();
        all.extend(lines);
        all
    }
}

impl From<Vec<ReferenceLine>> for Lines {
    fn from(lines: Vec<ReferenceLine>) -> Self {
        lines.into_iter().collect()
    }
}

impl<'a> IntoIterator for &'a Lines {
    type Item = &'a ReferenceLine;
    type IntoIter = Box<dyn Iterator<Item = &'a ReferenceLine> + 'a>;

    fn into_iter(self) -> Self::IntoIter {
        Box::new(self.iter())
    }
}

impl PartialEq for Lines {
    fn eq(&self, other: &Self) -> bool {
        self.len() == other.len() && self.shared().zip(other.shared()).all(|(a, b)| a == b)
    }
}

impl std::fmt::Debug for Lines {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_list().entries(self.iter()).finish()
    }
}

impl Serialize for Lines {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_seq(self.iter())
    }
}

impl<'de> Deserialize<'de> for Lines {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        Vec::<ReferenceLine>::deserialize(from).map(Self::from)
    }
}
