//! What an answer file gives at the start, what only when asked, and what accessories do to a case.

use std::convert::Infallible;
use std::sync::LazyLock;

use lineside::knowledge::{self, model::Knowledge};
use lineside::walk::{AnswerFile, Event, Given, Walk, drive};

static KNOWLEDGE: LazyLock<Knowledge> = LazyLock::new(|| knowledge::embedded().expect("it is sound"));

const HEAD: &str = "complaint = \"part-burnt\"\nequipment = \"split-air-conditioner\"\n";

fn walked(text: &str) -> (Walk<'static>, Vec<Event>) {
    let mut answers = AnswerFile::parse(text, &KNOWLEDGE).expect("a valid answer file");
    let mut walk = Walk::new(&KNOWLEDGE);
    let mut events = Vec::new();
    drive::<Infallible>(&mut walk, &mut answers, &mut |event: &Event| {
        events.push(event.clone());
        Ok(())
    })
    .expect("it ends");
    assert_eq!(answers.refusal(), None);
    (walk, events)
}

fn given<'e>(events: &'e [Event], id: &str) -> Option<&'e Event> {
    events
        .iter()
        .find(|event| matches!(event, Event::Answer { test, .. } if test == id))
}

#[test]
fn what_is_told_only_when_asked_is_not_volunteered() {
    let text = format!(
        "{HEAD}[answers]\nhazard-look = \"none\"\n[if-asked]\nburnt-part = \"contactor\"\nwet-hose-insulation = \"steady\"\n"
    );
    let (_, events) = walked(&text);
    // The tree of a burnt part asks which part it is; the wet test belongs to another complaint.
    assert!(
        matches!(
            given(&events, "burnt-part"),
            Some(Event::Answer {
                volunteered: false,
                ..
            })
        ),
        "{events:?}"
    );
    assert_eq!(given(&events, "wet-hose-insulation"), None);
    assert!(matches!(
        given(&events, "hazard-look"),
        Some(Event::Answer {
            volunteered: true,
            ..
        })
    ));
}

/// Ids given in British spelling stay, since kept cases hold them; what a person writes may have either.
#[test]
fn ids_are_read_in_both_spellings() {
    for (test, outcome) in [
        ("neighbours-dim-too", "neighbours-too"),
        ("neighbors-dim-too", "neighbors-too"),
    ] {
        let text = format!(
            "complaint = \"lights-dim\"\nequipment = \"split-air-conditioner\"\n[answers]\n{test} = \"{outcome}\"\n"
        );
        let (_, events) = walked(&text);
        assert!(
            given(&events, "neighbours-dim-too").is_some(),
            "{test}: {events:?}"
        );
    }
    for id in ["aluminium-copper-termination", "aluminum-copper-termination"] {
        assert!(KNOWLEDGE.cause(id).is_some(), "{id}");
    }
}

#[test]
fn a_caution_is_accepted_only_before_a_test_the_file_can_answer() {
    let look = |section: &str| {
        let text = format!(
            "{HEAD}[answers]\nhazard-look = \"none\"\nburnt-part = \"contactor\"\n[{section}]\ncontactor-look = \"contacts-burnt\"\n"
        );
        let (_, events) = walked(&text);
        let accepted = events
            .iter()
            .filter(|event| matches!(event, Event::Acknowledged { .. }))
            .count();
        (accepted, given(&events, "contactor-look").is_some())
    };
    let (accepted, answered) = look("if-asked");
    assert!(answered && accepted > 0, "accepted {accepted} cautions");
}

#[test]
fn every_fault_of_an_answer_told_when_asked_has_its_line() {
    for (line, words) in [
        ("burnt-prat = \"contactor\"", "did you mean `burnt-part`?"),
        ("burnt-part = \"contactr\"", "did you mean `contactor`?"),
        ("conductor-metal = \"tin\"", "tin"),
    ] {
        let text = format!("{HEAD}[if-asked]\n{line}\n");
        let errors = AnswerFile::parse(&text, &KNOWLEDGE).expect_err("it has a fault");
        let said = errors[0].to_string();
        assert!(said.starts_with("line 4: ") && said.contains(words), "{said}");
    }
}

/// The parts of the equipment in a case with these accessories.
fn parts(accessories: &str) -> Vec<String> {
    let (walk, _) = walked(&format!("{HEAD}{accessories}"));
    walk.installation().expect("it is known").parts.clone()
}

#[test]
fn only_what_is_fitted_is_considered_and_all_of_it_when_nobody_knows() {
    let has = |parts: &[String], part: &str| parts.iter().any(|own| own == part);
    let none = parts("accessories = []\n");
    assert!(!has(&none, "humidifier") && !has(&none, "zone-dampers") && has(&none, "compressor"));
    let one = parts("accessories = [\"humidifier\"]\n");
    assert!(has(&one, "humidifier") && !has(&one, "zone-dampers"));
    let unknown = parts("");
    assert!(has(&unknown, "humidifier") && has(&unknown, "zone-dampers"));
}

#[test]
fn causes_of_an_accessory_that_is_not_fitted_are_not_ranked() {
    let ranked = |accessories: &str| {
        let (walk, _) = walked(&format!("{HEAD}{accessories}"));
        let standing = walk.standing().expect("it is known").ranked();
        let of_accessories = standing
            .iter()
            .filter(|(cause, _)| {
                let parts = &KNOWLEDGE.causes[*cause].parts;
                parts.iter().any(|part| KNOWLEDGE.accessory(part).is_some())
            })
            .count();
        (standing.len(), of_accessories)
    };
    let (all, of_accessories) = ranked("");
    assert!(
        of_accessories > 0,
        "no cause belongs to an accessory, so nothing is tested"
    );
    let (without, none) = ranked("accessories = []\n");
    assert_eq!(none, 0);
    assert_eq!(all - without, of_accessories);
}

#[test]
fn an_accessory_that_does_not_fit_is_refused_with_its_line() {
    let text = "complaint = \"equipment-resets\"\nequipment = \"boiler\"\naccessories = [\"zone-dampers\"]\n";
    let errors = AnswerFile::parse(text, &KNOWLEDGE).expect_err("a boiler has no blower");
    assert!(errors[0].to_string().starts_with("line 3: "), "{}", errors[0]);
    // Where nothing can be fitted at all, the next question is another one and must not be answered instead.
    let text =
        "complaint = \"lights-dim\"\nequipment = \"building-supply\"\naccessories = [\"humidifier\"]\n";
    let errors = AnswerFile::parse(text, &KNOWLEDGE).expect_err("a supply has no humidifier");
    assert_eq!(
        errors[0].to_string(),
        "line 3: nothing is fitted to this equipment besides; leave `accessories` out"
    );
}

#[test]
fn a_defect_that_is_only_thought_so_is_said_to_be_unsure() {
    let defects = |answer: &str| {
        let (walk, _) = walked(&format!(
            "{HEAD}[answers]\nhazard-look = \"none\"\ncontactor-look = \"{answer}\"\n"
        ));
        lineside::report::CaseResult::new(&walk)
            .expect("it is known")
            .defects
            .into_iter()
            .map(|defect| (defect.test, defect.sure))
            .collect::<Vec<_>>()
    };
    assert_eq!(defects("terminal-burnt"), [("contactor-look".to_owned(), true)]);
    assert_eq!(
        defects("likely terminal-burnt"),
        [("contactor-look".to_owned(), false)]
    );
}

/// A case of a unit that gets no or too little voltage, with one more answer.
fn with_voltage(answer: &str) -> (Walk<'static>, Vec<Event>) {
    walked(&format!(
        "complaint = \"does-not-run\"\nequipment = \"split-air-conditioner\"\n[facts]\nnameplate-voltage = \
         \"230 V\"\n[answers]\nhazard-look = \"none\"\n{answer}\n"
    ))
}

#[test]
fn a_reading_in_words_weighs_like_a_figure_clear_of_every_limit() {
    let ranked = |answer: &str| {
        let (walk, _) = with_voltage(answer);
        walk.standing().expect("it is known").ranked()
    };
    let without = ranked("");
    // 190 V is far from every limit of a 230 V unit, so no error of the meter is shared out.
    let low = ranked("voltage-at-unit-rest = \"190 V\"");
    assert_ne!(without, low, "the reading says nothing, so nothing is tested");
    for said in ["low", "Low", "reads low", "Below 90 % of the nameplate voltage"] {
        let answer = format!("voltage-at-unit-rest = \"{said}\"");
        assert!(ranked(&answer) == low, "{said}");
    }
    let none = ranked("voltage-at-unit-rest = \"0 V\"");
    for said in ["missing", "no voltage", "dead", "None"] {
        let answer = format!("voltage-at-unit-rest = \"{said}\"");
        assert!(ranked(&answer) == none, "{said}");
    }
    let thought = ranked("voltage-at-unit-rest = \"likely low\"");
    assert_ne!(thought, without);
    assert_ne!(thought, low);
    assert_eq!(
        ranked("breaker-pole-drop = \"tested bad\""),
        ranked("breaker-pole-drop = \"900 mV\"")
    );
}

#[test]
fn an_ohmmeter_off_its_range_reads_no_ground_at_all() {
    let said = |reading: &str| with_voltage(&format!("ground-resistance = {reading:?}"));
    let ranked = |reading: &str| said(reading).0.standing().expect("it is known").ranked();
    assert_eq!(ranked("OL"), ranked("1000000 ohm"));
    assert_ne!(ranked("OL"), ranked("0.2 ohm"));
}

#[test]
fn words_that_fit_no_outcome_of_a_reading_are_refused_with_those_that_do() {
    for (answer, wanted) in [
        ("capacitor-bench = \"tested bad\"", "dead, low, high, within"),
        ("capacitor-bench = \"likely 12 uF\"", "dead, low, high, within"),
        ("compressor-insulation = \"none\"", "failed, low, suspect, good"),
        ("compressor-insulation = \"OL\"", "failed, low, suspect, good"),
    ] {
        let text = format!("{HEAD}[answers]\n{answer}\n");
        let errors = AnswerFile::parse(&text, &KNOWLEDGE).expect_err(answer);
        assert!(
            errors[0]
                .to_string()
                .contains(&format!("say it in words: {wanted}")),
            "{}",
            errors[0]
        );
    }
}

/// A meter that chose its range by itself shows volts: taken for millivolts, a burning joint would pass for a good one.
#[test]
fn a_bare_figure_below_one_where_millivolts_are_read_is_asked_after() {
    let taken = |figure: &str| {
        let text = format!("{HEAD}[answers]\nbreaker-joint-drop = {figure}\n");
        AnswerFile::parse(&text, &KNOWLEDGE)
    };
    for figure in ["0.4", "\"0.4\""] {
        let errors = taken(figure).expect_err(figure);
        let said = errors[0].to_string();
        assert!(
            said.starts_with("line 4") && said.contains("`0.4 V`") && said.contains("`0.4 mV`"),
            "{said}"
        );
    }
    for figure in ["\"0.4 V\"", "\"0.4 mV\"", "40", "0"] {
        assert!(taken(figure).is_ok(), "{figure}");
    }
}

#[test]
fn what_is_calculated_from_a_reading_in_words_waits_for_its_figure_and_says_so() {
    use lineside::walk::{Reply, Resolution};
    let text = "complaint = \"phase-lost-or-unbalanced\"\nequipment = \"rooftop-three-phase\"\n[facts]\n\
                nameplate-voltage = \"460 V\"\n[answers]\nhazard-look = \"none\"\n\
                voltage-phase-bc = \"460 V\"\nvoltage-phase-ca = \"460 V\"\n";
    let unbalance = KNOWLEDGE.test("voltage-unbalance-at-unit").expect("it is there");
    let (figure, _) = walked(&format!("{text}voltage-phase-ab = \"440 V\"\n"));
    assert!(matches!(figure.resolution(unbalance), Resolution::Known(_)));
    let (worded, events) = walked(&format!("{text}voltage-phase-ab = \"low\"\n"));
    assert_eq!(worded.resolution(unbalance), Resolution::Unknown);
    assert!(given(&events, "voltage-phase-ab").is_some());
    let reply = Reply::Volunteer {
        test: "voltage-phase-ab".to_owned(),
        answer: Some("low".to_owned()),
    };
    let said = worded.receive(&reply).expect("it is taken").understood;
    let said = said.expect("the figure is wanted");
    let name = &KNOWLEDGE.tests[unbalance].name;
    assert!(
        said.starts_with("no figure") && said.contains(name.as_str()),
        "{said}"
    );
}

#[test]
fn a_reading_held_against_one_said_in_words_cannot_be_judged_and_says_so() {
    use lineside::walk::Reply;
    let (walk, _) = with_voltage("voltage-at-panel-running = \"normal\"");
    let volunteer = |answer: &str| Reply::Volunteer {
        test: "voltage-at-disconnect-running".to_owned(),
        answer: Some(answer.to_owned()),
    };
    let figure = walk.receive(&volunteer("226 V")).expect("it is taken").understood;
    let figure = figure.expect("a figure is always said");
    assert!(
        figure.contains("has no figure") && figure.contains("branch loss, normal"),
        "{figure}"
    );
    assert!(walk.receive(&volunteer("branch loss")).is_ok());
}

#[test]
fn minutes_between_failures_are_taken() {
    let (walk, _) = walked(
        "complaint = \"equipment-resets\"\nequipment = \"gas-furnace\"\n[facts]\ntime-between-failures = \"20 min\"\n\
         [answers]\nhazard-look = \"none\"\n",
    );
    let fact = KNOWLEDGE.fact("time-between-failures").expect("it is there");
    assert_eq!(
        walk.fact(fact).flatten().map(ToString::to_string).as_deref(),
        Some("20 min")
    );
}

/// What was told counts in the order in which it was written down, as at the keyboard: a proof given before its danger was told
/// clears nothing.
#[test]
fn answers_are_given_in_the_order_of_the_file() {
    let text = format!(
        "{HEAD}[answers]\nwhat-changed = \"nothing-known\"\nburnt-part = \"disconnect\"\nhazard-look = \"none\"\n\
         burnt-before = \"first-time\"\n[facts]\nnameplate-voltage = \"230 V\"\nconductor-metal = \"copper\"\n"
    );
    let (_, events) = walked(&text);
    let told: Vec<&str> = events
        .iter()
        .filter_map(|event| match event {
            Event::Answer {
                test,
                volunteered: true,
                ..
            } => Some(test.as_str()),
            Event::Fact { fact, .. } => Some(fact.as_str()),
            _ => None,
        })
        .take(6)
        .collect();
    let written = [
        "nameplate-voltage",
        "conductor-metal",
        "what-changed",
        "burnt-part",
        "hazard-look",
        "burnt-before",
    ];
    assert_eq!(told, written);
}

/// Several parts changed in vain are told together, and each counts: two that were changed speak against both.
#[test]
fn parts_changed_in_vain_are_told_together() {
    let standing = |told: &str| {
        let text = format!(
            "complaint = \"motor-will-not-start\"\nequipment = \"gas-furnace\"\n[answers]\nhazard-look = \"none\"\n{told}"
        );
        let (walk, events) = walked(&text);
        let of = |id: &str| {
            let cause = KNOWLEDGE.cause(id).expect("it is there");
            walk.standing().expect("it stands").of(cause)
        };
        (
            ["weak-blower-capacitor", "board-failed-of-itself"].map(of),
            events,
        )
    };
    let ([capacitor, board], _) = standing("");
    let (both, events) = standing("replaced-without-cure = [\"capacitor\", \"control-board\"]\n");
    assert!(
        both[0] < capacitor / 2.0 && both[1] < board / 2.0,
        "{both:?}, was {capacitor} and {board}"
    );
    let parts = ["capacitor", "control-board"].map(str::to_owned).to_vec();
    let Some(Event::Answer { given, .. }) = given(&events, "replaced-without-cure") else {
        panic!("it was told: {events:?}");
    };
    assert_eq!(*given, Given::Outcomes(parts));
    // That nothing was changed cannot be true beside it.
    let (_, events) = standing("replaced-without-cure = [\"nothing\", \"capacitor\"]\n");
    let Some(Event::Answer { given, .. }) = self::given(&events, "replaced-without-cure") else {
        panic!("it was told: {events:?}");
    };
    assert_eq!(*given, Given::Outcome("capacitor".to_owned()));
    // Where one excludes the others, two are refused.
    let two = format!("{HEAD}[answers]\nburnt-part = [\"disconnect\", \"contactor\"]\n");
    assert!(AnswerFile::parse(&two, &KNOWLEDGE).is_err());
}
