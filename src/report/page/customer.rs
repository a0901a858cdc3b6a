//! The page of the customer: plain words, one sheet, no probabilities, no trade word.

use crate::knowledge::model::{Job, Place};
use crate::report::CaseResult;
use crate::report::text::clean_time;

use super::block::{Block, Pair, Section};
use super::pieces::led;
use super::plain;
use super::{Page, Reader};

pub(super) fn page(result: &CaseResult) -> Page {
    let head = &result.head;
    let mut pairs = Vec::new();
    for (label, text) in [
        ("Place", head.place.clone()),
        ("Equipment", head.unit.clone()),
        ("Date", head.last.or(head.opened).map(|at| head.day(at))),
        (
            "Technician",
            Some(head.technicians().join(", ")).filter(|names| !names.is_empty()),
        ),
    ] {
        if let Some(text) = text {
            pairs.push(Pair::new(label, text));
        }
    }
    let sections = vec![
        Section::new(
            "Why we came",
            vec![Block::Text(plain::complaint(&result.complaint).to_owned())],
        ),
        Section::new("What we found", found(result)),
        Section::new("What was done", done(result)),
        Section::new("What has to be done, and by whom", to_do(result)),
        Section::new("Until then", until_then(result)),
        Section::new("How you will know that it is right", how_known(result)),
        Section::new(
            "Signed",
            vec![Block::Signatures(vec!["Explained by", "Customer"])],
        ),
    ];
    Page {
        reader: Reader::Customer,
        title: "What we found at your equipment".to_owned(),
        head: pairs,
        lead: Vec::new(),
        sections,
        foot: Vec::new(),
    }
}

/// The least probability, 0 to 1, from which a reason is told although it was not safe to go on.
const LIKELY: f64 = 0.55;

/// The conclusion in plain words.
fn found(result: &CaseResult) -> Vec<Block> {
    let said = |cause: &crate::report::CauseStanding| plain::cause(&cause.cause, cause.place).to_owned();
    if let Some(closed) = &result.closed {
        let cause = closed.cause.as_deref().map(plain::known_cause);
        return vec![Block::Strong(match cause {
            Some(Some(text)) => text.to_owned(),
            _ => "We found the cause. The technician will tell you what it was.".to_owned(),
        })];
    }
    let likely: Vec<String> = led(result).map(said).collect();
    match result.conclusion.kind {
        "halted" => {
            let mut blocks = vec![Block::Strong(
                "We stopped, because it is not safe to go on before something is made safe.".to_owned(),
            )];
            if let Some(text) = led(result)
                .next()
                .filter(|first| first.probability >= LIKELY)
                .map(said)
            {
                blocks.push(Block::Text(format!("The most likely reason: {text}")));
            }
            blocks
        }
        "found" => likely.into_iter().take(1).map(Block::Strong).collect(),
        "likely" => {
            let mut blocks: Vec<Block> = likely.into_iter().take(1).map(Block::Strong).collect();
            blocks.push(Block::Text(
                "This is the most likely reason. It still has to be proved by a measurement.".to_owned(),
            ));
            blocks
        }
        "open" if !likely.is_empty() => vec![
            Block::Text("We do not know the reason for sure yet. It may be one of these:".to_owned()),
            Block::Points(likely),
        ],
        _ => vec![Block::Text(
            "We do not know the reason yet. What we saw does not fit any of the usual ones.".to_owned(),
        )],
    }
}

fn done(result: &CaseResult) -> Vec<Block> {
    let mut points: Vec<String> = result
        .head
        .repairs
        .iter()
        .map(|repair| repair.text.clone())
        .collect();
    if let Some(closed) = result.closed.as_ref().filter(|closed| !closed.text.is_empty()) {
        points.push(closed.text.clone());
    }
    if points.is_empty() {
        Vec::new()
    } else {
        vec![
            Block::Text("In the technician's words:".to_owned()),
            Block::Points(points),
        ]
    }
}

/// Who has it to do.
const fn who(job: Job) -> &'static str {
    match job {
        Job::Utility => "The power company has to do this. The part belongs to them.",
        Job::Electrician => {
            "A licensed electrician has to do this. We made a page that tells the electrician what to do."
        }
        Job::HvacTechnician => "A heating and cooling technician does this.",
        Job::UtilityOrElectrician => {
            "The power company or a licensed electrician has to do this. A check at the meter tells which one."
        }
        Job::GasFitter => "The gas company or a licensed gas worker has to do this.",
        Job::SourceDealer => "The company that sold or set up your generator or battery has to do this.",
        Job::CheckLocally => {
            "An electrician or a heating and cooling technician does this. Local rules say which one."
        }
    }
}

fn to_do(result: &CaseResult) -> Vec<Block> {
    let mut blocks = Vec::new();
    let sure = match result.conclusion.kind {
        "found" | "likely" => true,
        "halted" => led(result)
            .next()
            .is_some_and(|first| first.probability >= LIKELY),
        _ => false,
    };
    if sure
        && result.closed.is_none()
        && let Some(cause) = led(result).next()
    {
        let text = if plain::nothing_broken(&cause.cause) {
            "Nothing has to be repaired."
        } else {
            who(cause.trade)
        };
        blocks.push(Block::Text(text.to_owned()));
    } else if result.closed.is_none() {
        blocks.push(Block::Text(
            "More has to be checked before anything is repaired or bought.".to_owned(),
        ));
    }
    let electrical = result
        .defects
        .iter()
        .filter(|defect| {
            matches!(
                defect.trade,
                Job::Electrician | Job::UtilityOrElectrician | Job::Utility
            )
        })
        .count();
    let others = result.defects.len() - electrical;
    for (number, whose) in [
        (electrical, "an electrician or the power company"),
        (others, "a technician"),
    ] {
        let text = match number {
            0 => continue,
            1 => format!(
                "We noted one thing that is not as it should be. It can become a danger. Ask {whose} to put it right."
            ),
            more => format!(
                "We noted {more} things that are not as they should be. They can become a danger. Ask {whose} to put them right."
            ),
        };
        blocks.push(Block::Text(text));
    }
    blocks
}

fn until_then(result: &CaseResult) -> Vec<Block> {
    if result.closed.as_ref().is_some_and(|closed| closed.proved) {
        return Vec::new();
    }
    let held = result.conclusion.kind == "halted" || result.held.iter().any(|hold| !hold.from_start);
    let mut blocks = Vec::new();
    let everywhere = led(result).any(|cause| matches!(cause.place, Place::Utility | Place::Service));
    if result.conclusion.kind == "halted" && everywhere {
        blocks.push(Block::Strong(
            "The trouble can reach the whole building. Unplug televisions and computers. Do not touch metal pipes. Leave \
             the main power switch as the technician set it, until the power company or an electrician was there."
                .to_owned(),
        ));
    }
    if held {
        blocks.push(Block::Strong(
            "Please leave the equipment turned off. Do not turn a safety switch (breaker) back on before it was checked."
                .to_owned(),
        ));
    } else {
        blocks.push(Block::Text(
            "If a safety switch (breaker) turns off, leave it off and call us.".to_owned(),
        ));
    }
    blocks.push(Block::Text(
        "Do you smell something burnt? Do you see smoke or sparks, or feel a tingle when you touch metal? Then keep away \
         and keep others away. Call for help. Turn the power off only if you can reach the switch safely."
            .to_owned(),
    ));
    blocks
}

fn how_known(result: &CaseResult) -> Vec<Block> {
    if result.closed.as_ref().is_some_and(|closed| closed.proved) {
        return vec![Block::Text(
            "We checked it after the repair, and it is right now. If the trouble comes back, tell us right away.".to_owned(),
        )];
    }
    let mut blocks = vec![Block::Text(
        "After the repair, the technician measures again and tells you the result.".to_owned(),
    )];
    if let Some(time) = clean_time(result) {
        blocks.push(Block::Text(format!(
            "It also has to run for {time} without the trouble. Only then can we be sure."
        )));
    }
    blocks
}
