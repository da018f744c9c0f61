//! What the DXF library leaves untidy: heads of tables without a handle, ends of blocks
//! that repeat the handle of their start (handles are unique in a drawing: DXF reference,
//! “Database objects”, group code 5), and names of a drawing program that say nothing of
//! this drawing. The names the format itself asks for stay: its version, and the one
//! application every drawing registers.

/// The text with a handle of its own for every table head and end of a block.
/// Text that is no list of pairs is given back as it is.
pub(crate) fn tidied(bytes: Vec<u8>) -> Vec<u8> {
    match std::str::from_utf8(&bytes).ok().and_then(with_handles) {
        Some(text) => text.into_bytes(),
        None => bytes,
    }
}

/// Applications the library registers, of which nothing in the drawing is.
const STRANGE_APPLICATIONS: [&str; 3] = ["ACADANNOTATIVE", "ACAD_NAV_VCDISPLAY", "ACAD_MLEADERVER"];

/// A variable of the header that every reader is to pass over (DXF reference, “Header”).
const STRANGE_VARIABLE: &str = "$ACADMAINTVER";

type Pair<'a> = (&'a str, &'a str);

/// The pairs without what is strange.
fn without_strange_names<'a>(pairs: &[Pair<'a>]) -> Vec<Pair<'a>> {
    let begins = |p: &Pair| matches!(p.0.trim(), "0" | "9");
    let mut kept = Vec::with_capacity(pairs.len());
    let mut at = 0;
    while at < pairs.len() {
        let rest = &pairs[at..];
        let end = rest.iter().skip(1).position(begins).map_or(rest.len(), |n| n + 1);
        let record = &rest[..end];
        let named = |name: &str| record.iter().any(|p| p.0.trim() == "2" && p.1 == name);
        let strange = match record[0].1 {
            "APPID" => STRANGE_APPLICATIONS.into_iter().any(named),
            variable => variable == STRANGE_VARIABLE,
        };
        if !strange {
            kept.extend_from_slice(record);
        }
        at += end;
    }
    kept
}

fn with_handles(text: &str) -> Option<String> {
    let lines: Vec<&str> = text.lines().collect();
    let pairs: Vec<Pair> = lines.chunks_exact(2).map(|p| (p[0], p[1])).collect();
    let pairs = without_strange_names(&pairs);
    let seed = pairs.windows(2).position(|w| w[0].1 == "$HANDSEED" && w[1].0.trim() == "5")? + 1;
    let mut next = u64::from_str_radix(pairs.get(seed)?.1.trim(), 16).ok()?;
    let mut fresh = || {
        next += 1;
        next - 1
    };
    let mut out: Vec<(String, String)> = Vec::with_capacity(pairs.len() + 10);
    let mut within = "";
    for (index, &(code, value)) in pairs.iter().enumerate() {
        if code.trim() == "0" {
            within = value;
        }
        let own = match (within, code.trim()) {
            ("ENDBLK", "5") => Some(format!("{:X}", fresh())),
            _ => None,
        };
        out.push((code.to_owned(), own.unwrap_or_else(|| value.to_owned())));
        // A table's head: its name, and then its handle.
        let head = within == "TABLE" && code.trim() == "2";
        if head && pairs.get(index + 1).is_some_and(|p| p.0.trim() == "100") {
            out.push(("  5".to_owned(), format!("{:X}", fresh())));
        }
    }
    // Nothing was put in before the header's end.
    out.get_mut(seed)?.1 = format!("{next:X}");
    let mut text = String::with_capacity(text.len() + 200);
    for (code, value) in out {
        text.push_str(&code);
        text.push_str("\r\n");
        text.push_str(&value);
        text.push_str("\r\n");
    }
    Some(text)
}
