//! Broken and hostile files are refused in words: no panic, nothing fetched.

// Helpers of the tests stop at the first fault.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use crate::common::sample;
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

/// A closed rectangle as DXF.
fn rectangle(x: f64, y: f64, side: f64) -> String {
    let mut entity = String::from("0\nLWPOLYLINE\n8\n0\n90\n4\n70\n1\n");
    for (dx, dy) in [(0.0, 0.0), (side, 0.0), (side, side), (0.0, side)] {
        let _ = write!(entity, "10\n{}\n20\n{}\n", x + dx, y + dy);
    }
    entity
}

fn drawing(entities: &str) -> String {
    format!("0\nSECTION\n2\nENTITIES\n{entities}0\nENDSEC\n0\nEOF\n")
}

#[test]
fn places_far_away_or_no_numbers_are_refused() {
    for side in ["1e9", "1e38", "1e300", "-4e15"] {
        let svg = format!(
            "<svg xmlns='http://www.w3.org/2000/svg' width='9mm' viewBox='0 0 9 9'>\
             <rect x='0' y='0' width='{0}' height='{0}'/><path d='M0 0H{0}V90z'/></svg>",
            side.trim_start_matches('-')
        );
        let refused = bring(Kind::Svg, svg.as_bytes());
        assert!(refused.is_err(), "{side}: {refused:?}");
        let dxf = drawing(&rectangle(0.0, 0.0, side.parse().unwrap()));
        let refused = bring(Kind::Dxf, dxf.as_bytes());
        // Beyond what a square can be taken of, no outline is left to be far away.
        let said = matches!(refused, Err(ExchangeError::FarAway { .. }))
            || side == "1e300" && matches!(refused, Err(ExchangeError::NoOutline));
        assert!(said, "{side}: {refused:?}");
    }
    let no_number = drawing(&rectangle(0.0, 0.0, 300.0)).replace("300", "nan");
    assert!(bring(Kind::Dxf, no_number.as_bytes()).is_err());
}

#[test]
fn a_crowd_of_outlines_or_lines_is_refused_quickly() {
    let start = std::time::Instant::now();
    let at = |i: usize| (30.0 * (i % 100) as f64, 30.0 * (i / 100) as f64);
    let crowd: String = (0..600).map(|i| rectangle(at(i).0, at(i).1, 25.0)).collect();
    let refused = bring(Kind::Dxf, drawing(&crowd).as_bytes());
    assert!(matches!(refused, Err(ExchangeError::TooMany { .. })), "{refused:?}");
    // A star: thousands of lines that all end in one point.
    let star: String = (0..40_000)
        .map(|i| format!("0\nLINE\n8\n0\n10\n0\n20\n0\n11\n{}\n21\n{}\n", i % 211, i / 211 + 50))
        .collect();
    assert!(bring(Kind::Dxf, drawing(&star).as_bytes()).is_err());
    let lines: String =
        (0..60_000).map(|i| format!("0\nLINE\n8\n0\n10\n{i}\n20\n0\n11\n{i}\n21\n9\n")).collect();
    let refused = bring(Kind::Dxf, drawing(&lines).as_bytes());
    assert!(matches!(refused, Err(ExchangeError::TooMany { .. })), "{refused:?}");
    assert!(start.elapsed().as_secs() < 30, "{:?}", start.elapsed());
}

#[test]
fn what_is_not_kept_is_listed() {
    let mut entities = rectangle(0.0, 0.0, 300.0);
    entities += "0\nHATCH\n8\n0\n0\nMULTILEADER\n8\n0\n0\nDIMENSION\n8\n0\n0\nRAY\n8\n0\n";
    entities += "0\nTEXT\n8\n0\n10\n150\n20\n150\n1\ncut two\n";
    entities += "0\nTEXT\n8\n0\n10\n150\n20\n150\n1\nPIECE NAME: yoke\n";
    entities += "0\nPOINT\n8\nholes\n10\n50\n20\n50\n";
    entities += "0\nLINE\n8\n0\n60\n1\n10\n5\n20\n5\n11\n90\n21\n90\n";
    let brought = bring(Kind::Dxf, drawing(&entities).as_bytes()).unwrap();
    assert_eq!(brought.pattern.pieces[0].name, "yoke");
    let lost: Vec<&str> = brought.lost.iter().map(|l| l.what.as_str()).collect();
    for what in ["HATCH", "MULTILEADER", "Ray", "“cut two”", "holes", "hidden"] {
        assert!(lost.iter().any(|l| l.contains(what)), "{what} in {lost:?}");
    }
    assert!(!lost.iter().any(|l| l.contains("yoke")), "{lost:?}");
    let svg = "<svg xmlns='http://www.w3.org/2000/svg' width='90mm' viewBox='0 0 90 90'>\
        <rect width='60' height='70'/><text x='9' y='9'>size 3</text><foreignObject/>\
        <image href='data:image/png;base64,AAAA'/><script>alert(1)</script><style>*{}</style></svg>";
    let brought = bring(Kind::Svg, svg.as_bytes()).unwrap();
    let lost: Vec<&str> = brought.lost.iter().map(|l| l.what.as_str()).collect();
    for what in ["size 3", "foreignObject", "picture", "script", "style sheet"] {
        assert!(lost.iter().any(|l| l.contains(what)), "{what} in {lost:?}");
    }
}

/// A server on this machine that a careless reader would ask.
#[test]
fn nothing_outside_the_file_is_asked_for() {
    let listener = std::net::TcpListener::bind("127.0.0.1:0").unwrap();
    listener.set_nonblocking(true).unwrap();
    let port = listener.local_addr().unwrap().port();
    let secret = std::env::temp_dir().join(format!("hangtrue-secret-{}.svg", std::process::id()));
    std::fs::write(
        &secret,
        "<svg xmlns='http://www.w3.org/2000/svg'><path id='a' d='M0 0h77v77h-77z'/></svg>",
    )
    .unwrap();
    let (at, file) = (format!("http://127.0.0.1:{port}/a.svg"), secret.display());
    let svg = format!(
        "<?xml-stylesheet href='{at}'?><svg xmlns='http://www.w3.org/2000/svg' \
         xmlns:xlink='http://www.w3.org/1999/xlink' width='90mm' viewBox='0 0 90 90'>\
         <style>@import url({at});</style><rect width='60' height='70' fill='url({at}#p)'/>\
         <use href='{at}#a'/><use xlink:href='file://{file}#a'/><image href='{at}'/>\
         <image href='{file}'/></svg>"
    );
    let brought = bring(Kind::Svg, svg.as_bytes()).unwrap();
    assert_eq!(brought.pattern.pieces.len(), 1);
    assert!((brought.pattern.pieces[0].bounds().width() - 60.0).abs() < 1e-4);
    assert!(matches!(listener.accept(), Err(e) if e.kind() == std::io::ErrorKind::WouldBlock));
    let outside = "0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n8\n0\n2\nother\n70\n4\n10\n0\n20\n0\n1\n/etc/hostname\n0\nENDBLK\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n0\nINSERT\n8\n0\n2\nother\n10\n0\n20\n0\n";
    let dxf = format!("{outside}{}0\nENDSEC\n0\nEOF\n", rectangle(0.0, 0.0, 300.0));
    let brought = bring(Kind::Dxf, dxf.as_bytes()).unwrap();
    let lost: Vec<&str> = brought.lost.iter().map(|l| l.what.as_str()).collect();
    assert!(lost.iter().any(|l| l.contains("never opened")), "{lost:?}");
    std::fs::remove_file(secret).unwrap();
}
