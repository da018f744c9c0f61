use super::*;
use crate::piece::tests::plain_back;
use crate::{End, SeamPlace};
use std::collections::HashSet;

/// A rule of every kind, hung from what a plain back has.
fn one_of_each() -> Vec<Rule> {
    let piece = plain_back();
    let from = Fresh { piece: &piece, lines: &["hip balance", "knee"], far: 100.0, near: 50.0 };
    RULES.iter().map(|listed| (listed.fresh)(&from).unwrap()).collect()
}

#[test]
fn every_rule_is_read_as_it_was_written() {
    for rule in one_of_each() {
        let text = ron::to_string(&rule).unwrap();
        assert_eq!(ron::from_str::<Rule>(&text).unwrap(), rule, "{text}");
        let json = serde_json::to_string(&rule).unwrap();
        assert_eq!(serde_json::from_str::<Rule>(&json).unwrap(), rule, "{json}");
    }
}

/// The form of a project written before each rule had a file of its own.
#[test]
fn the_form_in_a_project_stays() {
    let text = r#"Below(place:Corner("crotch point"),drop:50.8)"#;
    let rule: Rule = ron::from_str(text).unwrap();
    assert_eq!(ron::to_string(&rule).unwrap(), text);
    let text = r#"EqualDepth(first:("side",End),second:("crotch",Start),depth:139.7)"#;
    let rule: Rule = ron::from_str(text).unwrap();
    assert_eq!(ron::to_string(&rule).unwrap(), text);
    for wrong in [
        r#"Below(place:Corner("crotch point"),drop:50.8,more:1)"#,
        r#"Below(place:Corner("crotch point"))"#,
        r#"Beside(drop:1)"#,
    ] {
        assert!(ron::from_str::<Rule>(wrong).is_err(), "{wrong}");
    }
}

#[test]
fn what_a_rule_says_of_its_lines_and_seams_agrees_with_its_parts() {
    for mut rule in one_of_each() {
        let name = rule.about().name;
        let alone: Option<Vec<String>> =
            rule.seams_alone().map(|s| s.into_iter().map(str::to_owned).collect());
        let lines: Vec<String> = rule.lines().into_iter().map(str::to_owned).collect();
        let seams: Vec<String> = rule.seams().into_iter().map(|s| s.clone()).collect();
        let line_parts: Vec<String> = rule
            .parts()
            .into_iter()
            .filter_map(|p| if let PartValue::Line(l) = p.value { Some(l.clone()) } else { None })
            .collect();
        assert_eq!(lines, line_parts, "{name}");
        if let Some(alone) = alone {
            assert_eq!(alone, seams, "{name}: it moves by the seams it names");
        }
    }
}

#[test]
fn names_and_words_tell_rules_apart_and_the_form_holds_every_part() {
    let names: HashSet<_> = RULES.iter().map(|l| l.about.name).collect();
    let words: HashSet<_> = RULES.iter().map(|l| l.about.word).collect();
    assert_eq!((names.len(), words.len()), (RULES.len(), RULES.len()));
    for listed in RULES {
        let mut blank = (listed.blank)();
        assert_eq!(blank.about(), listed.about);
        for index in 0..blank.parts().len() {
            let held = listed.about.form.matches(&format!("{{{index}}}")).count();
            assert_eq!(held, 1, "{}: part {index}", listed.about.name);
        }
    }
}

#[test]
fn a_line_is_pulled_by_its_one_length_or_its_one_place() {
    let pulled = |mut rule: Rule| match rule.pulled() {
        Some(Pulled::Length(l)) => Some(*l),
        Some(Pulled::Place(at)) => Some(at.distance),
        None => None,
    };
    let place = SeamPlace { seam: "side".into(), from: End::End, distance: 60.0 };
    let square = SquareToGrain { through: crate::Place::Seam(place.clone()) };
    assert_eq!(pulled(square.into()), Some(60.0));
    assert_eq!(pulled(SquareToGrain::default().into()), None);
    assert_eq!(pulled(Below { drop: 50.0, ..Below::default() }.into()), Some(50.0));
    assert_eq!(pulled(Through { first: place.clone(), second: place }.into()), None);
    assert_eq!(pulled(Between::default().into()), None);
}
