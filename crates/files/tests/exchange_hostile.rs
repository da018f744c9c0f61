//! Broken and hostile files are refused in words: no panic, nothing fetched.

// Helpers of the tests stop at the first fault.
#![allow(clippy::unwrap_used)]

mod common;

use common::sample;
use hangtrue_files::exchange::*;
use proptest::prelude::*;
use std::fmt::Write;
use std::sync::OnceLock;

fn bring(kind: Kind, bytes: &[u8]) -> Result<Brought, ExchangeError> {
    let options = BringOptions { unit: Some(FileUnit::Mm), known: None };
    bring_bytes(kind, bytes, &options)
}

fn svg_seed() -> &'static [u8] {
    static SEED: OnceLock<Vec<u8>> = OnceLock::new();
    SEED.get_or_init(|| svg_of(&sample(0.0), &SendOptions::default()).unwrap().0.into_bytes())
}

fn dxf_seed(form: DxfForm) -> &'static [u8] {
    static SEEDS: [OnceLock<Vec<u8>>; 2] = [OnceLock::new(), OnceLock::new()];
    let index = usize::from(form == DxfForm::Plain);
    SEEDS[index].get_or_init(|| dxf_of(&sample(0.0), &SendOptions::default(), form).unwrap().0)
}

#[test]
fn an_svg_that_unfolds_is_refused() {
    let mut nested = String::from("<!DOCTYPE svg [<!ENTITY a 'aaaaaaaaaa'>");
    for (from, to) in [("a", "b"), ("b", "c"), ("c", "d")] {
        let _ = write!(nested, "<!ENTITY {to} '{}'>", format!("&{from};").repeat(10));
    }
    nested += "]><svg xmlns='http://www.w3.org/2000/svg'>&d;</svg>";
    assert!(matches!(bring(Kind::Svg, nested.as_bytes()), Err(ExchangeError::Unfolds)));
    let outside = "<!DOCTYPE svg [<!ENTITY a SYSTEM 'file:///etc/hostname'>]><svg>&a;</svg>";
    assert!(matches!(bring(Kind::Svg, outside.as_bytes()), Err(ExchangeError::Unfolds)));
    let long = format!(
        "<!DOCTYPE svg [<!ENTITY a '{}'>]><svg>{}</svg>",
        "x".repeat(100_000),
        "&a;".repeat(1_000)
    );
    assert!(matches!(bring(Kind::Svg, long.as_bytes()), Err(ExchangeError::Unfolds)));
    // Each level refers ten times to the one below: 10^8 shapes.
    let mut uses = String::from("<svg xmlns='http://www.w3.org/2000/svg' width='9mm'><defs>");
    uses += "<g id='g0'><path d='M0 0h9v9z'/></g>";
    for level in 1..9 {
        let one = format!("<use href='#g{}'/>", level - 1);
        let _ = write!(uses, "<g id='g{level}'>{}</g>", one.repeat(10));
    }
    uses += "</defs><use href='#g8'/></svg>";
    assert!(matches!(bring(Kind::Svg, uses.as_bytes()), Err(ExchangeError::TooMany { .. })));
    let ring =
        "<svg xmlns='http://www.w3.org/2000/svg' width='9mm'><g id='a'><use href='#a'/></g></svg>";
    assert!(matches!(bring(Kind::Svg, ring.as_bytes()), Err(ExchangeError::TooDeep { .. })));
}

#[test]
fn an_svg_nested_deep_or_long_is_refused() {
    for depth in [100, 100_000] {
        let deep = format!("<svg xmlns='x'>{}{}</svg>", "<g>".repeat(depth), "</g>".repeat(depth));
        assert!(matches!(bring(Kind::Svg, deep.as_bytes()), Err(ExchangeError::TooDeep { .. })));
    }
    let many = format!("<svg>{}</svg>", "<g/>".repeat(200_000));
    assert!(matches!(bring(Kind::Svg, many.as_bytes()), Err(ExchangeError::TooMany { .. })));
    let large = vec![b' '; limits::LARGEST_SVG as usize + 1];
    assert!(matches!(bring(Kind::Svg, &large), Err(ExchangeError::TooLarge { .. })));
}

#[test]
fn a_dxf_of_a_million_entities_is_refused() {
    let one = "0\nPOINT\n8\n0\n10\n1\n20\n2\n";
    let file = format!("0\nSECTION\n2\nENTITIES\n{}0\nENDSEC\n0\nEOF\n", one.repeat(1_000_000));
    assert!(matches!(bring(Kind::Dxf, file.as_bytes()), Err(ExchangeError::TooMany { .. })));
}

fn blocks(levels: usize, each: usize) -> String {
    let mut file = String::from("0\nSECTION\n2\nBLOCKS\n");
    for level in 0..levels {
        let _ = write!(file, "0\nBLOCK\n8\n0\n2\nb{level}\n70\n0\n10\n0\n20\n0\n");
        for _ in 0..each {
            let inside = (level + 1) % levels;
            let _ = write!(file, "0\nINSERT\n8\n0\n2\nb{inside}\n10\n0\n20\n0\n");
        }
        file += "0\nENDBLK\n";
    }
    file += "0\nENDSEC\n0\nSECTION\n2\nENTITIES\n0\nINSERT\n8\n0\n2\nb0\n10\n0\n20\n0\n";
    file + "0\nENDSEC\n0\nEOF\n"
}

#[test]
fn blocks_in_a_ring_or_in_bombs_are_refused() {
    let ring = bring(Kind::Dxf, blocks(1, 1).as_bytes());
    assert!(matches!(ring, Err(ExchangeError::TooDeep { .. })), "{ring:?}");
    let bomb = bring(Kind::Dxf, blocks(10, 10).as_bytes());
    assert!(
        matches!(bomb, Err(ExchangeError::TooMany { .. } | ExchangeError::TooDeep { .. })),
        "{bomb:?}"
    );
}

#[test]
fn every_refusal_says_what_to_do() {
    for (kind, bytes) in [
        (Kind::Svg, &b""[..]),
        (Kind::Svg, b"\xff\xfe\x00"),
        (Kind::Svg, b"<html/>"),
        (Kind::Svg, b"<svg xmlns='http://www.w3.org/2000/svg' width='9mm' height='9mm'/>"),
        (Kind::Dxf, b""),
        (Kind::Dxf, b"hello"),
        (Kind::Dxf, b"0\nSECTION\n2\nENTITIES\n0\nENDSEC\n0\nEOF\n"),
    ] {
        let fault = bring(kind, bytes).unwrap_err().to_string();
        assert!(fault.len() > 40, "{fault}");
    }
}

/// A seed with bytes changed, cut out, or broken off.
fn mutated(seed: &[u8], changes: &[(usize, u8)], cut: (usize, usize), end: usize) -> Vec<u8> {
    let mut bytes = seed.to_vec();
    for &(at, byte) in changes {
        let at = at % bytes.len();
        bytes[at] = byte;
    }
    let from = cut.0 % bytes.len();
    let to = (from + cut.1).min(bytes.len());
    bytes.drain(from..to);
    bytes.truncate(end.max(1));
    bytes
}

fn changes() -> impl Strategy<Value = Vec<(usize, u8)>> {
    proptest::collection::vec(
        (any::<usize>(), prop_oneof![any::<u8>(), 48u8..58, Just(b'-')]),
        0..12,
    )
}

fn end() -> impl Strategy<Value = usize> {
    prop_oneof![3 => Just(usize::MAX), 1 => 0usize..60_000]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn a_mutated_svg_never_panics(c in changes(), cut in (any::<usize>(), 0usize..40), end in end()) {
        let _ = bring(Kind::Svg, &mutated(svg_seed(), &c, cut, end));
    }

    #[test]
    fn a_mutated_dxf_never_panics(c in changes(), cut in (any::<usize>(), 0usize..40), end in end()) {
        let _ = bring(Kind::Dxf, &mutated(dxf_seed(DxfForm::Plain), &c, cut, end));
    }

    #[test]
    fn random_bytes_never_panic(bytes in proptest::collection::vec(any::<u8>(), 0..2000)) {
        let _ = bring(Kind::Svg, &bytes);
        let _ = bring(Kind::Dxf, &bytes);
    }

    #[test]
    fn random_code_pairs_never_panic(
        pairs in proptest::collection::vec((prop_oneof![Just(0i32), 0i32..1100], prop_oneof![
            Just("LINE".to_owned()), Just("SPLINE".to_owned()), Just("INSERT".to_owned()),
            Just("LWPOLYLINE".to_owned()), Just("ARC".to_owned()), Just("ELLIPSE".to_owned()),
            Just("SECTION".to_owned()), Just("ENDSEC".to_owned()), Just("BLOCK".to_owned()),
            "-?[0-9]{1,6}", "-?[0-9]{1,3}[.][0-9]{1,4}", Just("1e308".to_owned()), Just("nan".to_owned()),
        ]), 0..120)
    ) {
        let mut file = String::from("0\nSECTION\n2\nENTITIES\n");
        for (code, value) in pairs {
            let _ = write!(file, "{code}\n{value}\n");
        }
        file += "0\nENDSEC\n0\nEOF\n";
        let _ = bring(Kind::Dxf, file.as_bytes());
    }
}
