//! A fresh copy of an SVG that holds only what is kept.
//!
//! The copy has groups, references inside the file, and in place of each shape a
//! short line under a number. The reader of SVG resolves the copy (units, view
//! boxes, transforms, references, what is hidden) and so tells where each shape
//! lies; the shape's own numbers are kept here in full. Pictures, scripts, style
//! sheets and anything that points outside the file never reach the reader and
//! are never fetched.

use super::svg_shape::shape_of;
use super::{ExchangeError, Found, limits};
use hangtrue_geometry::{BezPath, Point};
use roxmltree::{Document, Node, ParsingOptions};
use std::collections::HashMap;
use std::fmt::Write;

/// What a number in the copy stands for.
pub(crate) enum Stood {
    /// A shape.
    Shape {
        path: BezPath,
        name: String,
        /// Names of the groups round it, the outermost first.
        groups: Vec<Group>,
        seams: Option<String>,
    },
    /// Words.
    Words { text: String, at: Point, groups: Vec<Group> },
}

/// A group that has a name.
#[derive(Clone)]
pub(crate) struct Group {
    /// Its title, or its id.
    pub(crate) name: String,
    /// What we noted on it: the piece.
    pub(crate) piece: Option<String>,
    /// What we noted on it: the layer.
    pub(crate) layer: Option<String>,
}

/// The copy, and what its numbers stand for.
pub(crate) struct Clean {
    pub(crate) text: String,
    pub(crate) stood: HashMap<usize, Stood>,
    /// Whether width or height is in a unit of length.
    pub(crate) stated: bool,
}

/// Refuses text whose abbreviations unfold into far more text, or lie elsewhere.
fn check_abbreviations(text: &str) -> Result<(), ExchangeError> {
    let mut longest = 0;
    for declared in text.split("<!ENTITY").skip(1) {
        let declared = declared.split('>').next().unwrap_or(declared);
        let words = ["SYSTEM", "PUBLIC"];
        if declared.contains('&') || words.iter().any(|w| declared.contains(w)) {
            return Err(ExchangeError::Unfolds);
        }
        longest = longest.max(declared.len());
    }
    let unfolded = text.matches('&').count().saturating_mul(longest);
    if longest > 0 && unfolded as u64 > limits::LARGEST_SVG {
        return Err(ExchangeError::Unfolds);
    }
    Ok(())
}

/// Refuses text nested too deep, before a reader follows it down.
fn check_depth(text: &str) -> Result<(), ExchangeError> {
    let (mut depth, mut count) = (0usize, 0usize);
    for tag in text.split('<').skip(1) {
        if tag.starts_with('/') {
            depth = depth.saturating_sub(1);
        } else if tag.starts_with(|c: char| c.is_alphabetic() || c == '_') {
            count += 1;
            let end = tag.find('>').unwrap_or(tag.len());
            if !tag[..end].ends_with('/') {
                depth += 1;
            }
            if depth > 4 * limits::DEEPEST_GROUPS {
                let most = limits::DEEPEST_GROUPS;
                return Err(ExchangeError::TooDeep { what: "groups", most });
            }
            if count > limits::MOST_ELEMENTS {
                let most = limits::MOST_ELEMENTS;
                return Err(ExchangeError::TooMany { what: "elements", most });
            }
        }
    }
    Ok(())
}

/// Makes the copy; what is left out is counted in `found`.
pub(crate) fn clean(text: &str, found: &mut Found) -> Result<Clean, ExchangeError> {
    check_abbreviations(text)?;
    check_depth(text)?;
    let limit = u32::try_from(4 * limits::MOST_ELEMENTS).unwrap_or(u32::MAX);
    let options = ParsingOptions { allow_dtd: true, nodes_limit: limit, ..Default::default() };
    let document = Document::parse_with_options(text, options)
        .map_err(|e| ExchangeError::NotSvg { why: e.to_string() })?;
    let root = document.root_element();
    if root.tag_name().name() != "svg" {
        let why = format!("it starts with <{}>", root.tag_name().name());
        return Err(ExchangeError::NotSvg { why });
    }
    let mut numbers = HashMap::new();
    let mut ids = HashMap::new();
    for (number, node) in root.descendants().filter(Node::is_element).enumerate() {
        numbers.insert(node.id(), number);
        if let Some(id) = node.attribute("id") {
            ids.entry(id).or_insert(node);
        }
    }
    unfolded(root, &ids, &mut HashMap::new(), 0)?;
    let stated = stated_unit(root);
    let mut copy = Copy { out: String::new(), stood: HashMap::new(), numbers, ids, found };
    copy.element(root, &[], 0)?;
    Ok(Clean { text: copy.out, stood: copy.stood, stated })
}

/// How many elements a node becomes when references are followed.
fn unfolded<'a>(
    node: Node<'a, 'a>,
    ids: &HashMap<&'a str, Node<'a, 'a>>,
    known: &mut HashMap<roxmltree::NodeId, usize>,
    depth: usize,
) -> Result<usize, ExchangeError> {
    if depth > limits::DEEPEST_GROUPS {
        return Err(ExchangeError::TooDeep { what: "groups", most: limits::DEEPEST_GROUPS });
    }
    if let Some(&count) = known.get(&node.id()) {
        return Ok(count);
    }
    let mut count = 1usize;
    for child in node.children().filter(Node::is_element) {
        count = count.saturating_add(unfolded(child, ids, known, depth + 1)?);
    }
    if node.tag_name().name() == "use"
        && let Some(target) = href(node).and_then(|h| h.strip_prefix('#')).and_then(|h| ids.get(h))
    {
        count = count.saturating_add(unfolded(*target, ids, known, depth + 1)?);
    }
    if count > limits::MOST_ELEMENTS {
        return Err(ExchangeError::TooMany { what: "elements", most: limits::MOST_ELEMENTS });
    }
    known.insert(node.id(), count);
    Ok(count)
}

fn href<'a>(node: Node<'a, '_>) -> Option<&'a str> {
    node.attribute("href").or_else(|| node.attribute(("http://www.w3.org/1999/xlink", "href")))
}

fn stated_unit(root: Node) -> bool {
    let units = ["mm", "cm", "in", "pt", "pc", "Q"];
    ["width", "height"].iter().any(|side| {
        let value = root.attribute(*side).unwrap_or_default().trim();
        units.iter().any(|u| value.ends_with(u))
    })
}

/// Attributes of groups that are copied.
const COPIED: [&str; 9] = [
    "transform",
    "display",
    "visibility",
    "x",
    "y",
    "width",
    "height",
    "viewBox",
    "preserveAspectRatio",
];

struct Copy<'a, 'f> {
    out: String,
    stood: HashMap<usize, Stood>,
    numbers: HashMap<roxmltree::NodeId, usize>,
    ids: HashMap<&'a str, Node<'a, 'a>>,
    found: &'f mut Found,
}

impl<'a> Copy<'a, '_> {
    fn element(
        &mut self,
        node: Node<'a, 'a>,
        groups: &[Group],
        depth: usize,
    ) -> Result<(), ExchangeError> {
        let Some(&number) = self.numbers.get(&node.id()) else { return Ok(()) };
        let name = node.tag_name().name();
        match name {
            "svg" | "g" | "a" | "defs" | "symbol" | "switch" => {
                let tag = if name == "a" || name == "switch" { "g" } else { name };
                let mut inside = groups.to_vec();
                inside.extend(group_of(node));
                self.open(tag, number, node);
                if name == "svg" && depth == 0 {
                    self.out.push_str(" xmlns=\"http://www.w3.org/2000/svg\"");
                }
                self.out.push('>');
                for child in node.children().filter(Node::is_element) {
                    self.element(child, &inside, depth + 1)?;
                }
                let _ = write!(self.out, "</{tag}>");
            }
            "use" => self.reference(node, number),
            "path" | "rect" | "circle" | "ellipse" | "line" | "polyline" | "polygon" => {
                self.shape(node, number, groups);
            }
            "text" => self.words(node, number, groups),
            "title" | "desc" | "metadata" | "namedview" => {}
            "style" => self.found.lose("a style sheet (what it hides is read as if shown)"),
            "image" => self.found.lose("a picture"),
            "script" => self.found.lose("a script"),
            other => self.found.lose(format!("an element <{}>", short(other))),
        }
        Ok(())
    }

    fn open(&mut self, tag: &str, number: usize, node: Node) {
        let _ = write!(self.out, "<{tag} id=\"n{number}\"");
        for attribute in node.attributes().filter(|a| a.namespace().is_none()) {
            if COPIED.contains(&attribute.name()) {
                let _ =
                    write!(self.out, " {}=\"{}\"", attribute.name(), escaped(attribute.value()));
            }
        }
        for declared in node.attribute("style").unwrap_or_default().split(';') {
            let Some((property, value)) = declared.split_once(':') else { continue };
            let property = property.trim();
            if ["display", "visibility"].contains(&property) && node.attribute(property).is_none() {
                let _ = write!(self.out, " {property}=\"{}\"", escaped(value.trim()));
            } else if property == "transform" {
                self.found.lose("a transform written as a style");
            }
        }
    }

    fn reference(&mut self, node: Node<'a, 'a>, number: usize) {
        let Some(link) = href(node) else { return };
        let target = link.strip_prefix('#').and_then(|id| self.ids.get(id));
        match target.and_then(|t| self.numbers.get(&t.id())).copied() {
            Some(target) => {
                self.open("use", number, node);
                let _ = write!(self.out, " href=\"#n{target}\"/>");
            }
            None => self.found.lose("a reference to something outside the file (never fetched)"),
        }
    }

    fn shape(&mut self, node: Node, number: usize, groups: &[Group]) {
        match shape_of(node) {
            Ok(path) if path.elements().len() > 1 => {
                self.stand_in(node, number);
                let seams = node.attribute("data-seams").map(str::to_owned);
                let name = title_of(node)
                    .or_else(|| node.attribute("id").map(str::to_owned))
                    .unwrap_or_default();
                let groups = groups.to_vec();
                self.stood.insert(number, Stood::Shape { path, name, groups, seams });
            }
            Ok(_) => self.found.lose("an empty shape"),
            Err(why) => self.found.lose(why),
        }
    }

    fn words(&mut self, node: Node, number: usize, groups: &[Group]) {
        let text: String = node
            .descendants()
            .filter(Node::is_text)
            .filter_map(|t| t.text())
            .collect::<Vec<_>>()
            .join(" ");
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        if text.is_empty() {
            return;
        }
        let place = |of: &str| {
            node.descendants()
                .find_map(|n| n.attribute(of))
                .and_then(super::svg_shape::length)
                .unwrap_or(0.0)
        };
        let at = Point::new(place("x"), place("y"));
        self.stand_in(node, number);
        self.stood.insert(number, Stood::Words { text, at, groups: groups.to_vec() });
    }

    /// A short line under the number of the node, with its transform.
    fn stand_in(&mut self, node: Node, number: usize) {
        let mut copied = std::mem::take(&mut self.out);
        // The number is carried as the colour too: a name does not survive being
        // referred to.
        let _ = write!(copied, "<path id=\"n{number}\" d=\"M0 0L1 1\" stroke=\"#{number:06x}\"");
        for name in ["transform", "display", "visibility"] {
            if let Some(value) = node.attribute(name) {
                let _ = write!(copied, " {name}=\"{}\"", escaped(value));
            }
        }
        for declared in node.attribute("style").unwrap_or_default().split(';') {
            if let Some((property, value)) = declared.split_once(':')
                && ["display", "visibility"].contains(&property.trim())
                && node.attribute(property.trim()).is_none()
            {
                let _ = write!(copied, " {}=\"{}\"", property.trim(), escaped(value.trim()));
            }
        }
        copied.push_str("/>");
        self.out = copied;
    }
}

fn short(name: &str) -> String {
    name.chars().take(40).collect()
}

fn title_of(node: Node) -> Option<String> {
    let title = node.children().find(|c| c.tag_name().name() == "title")?;
    title.text().map(|t| t.trim().to_owned()).filter(|t| !t.is_empty())
}

fn group_of(node: Node) -> Option<Group> {
    let name = title_of(node).or_else(|| node.attribute("id").map(str::to_owned))?;
    let own = |key: &str| node.attribute(key).map(str::to_owned);
    Some(Group { name, piece: own("data-piece"), layer: own("data-layer") })
}

/// Text as it may stand in XML.
pub(crate) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            // Characters XML does not allow would make the whole file unreadable.
            c if c.is_control() && c != '\n' && c != '\t' => out.push(' '),
            '\u{fffe}' | '\u{ffff}' => out.push(' '),
            c => out.push(c),
        }
    }
    out
}
