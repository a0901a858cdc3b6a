//! The page of the customer: plain words, one sheet, no probabilities, no trade word.

use crate::knowledge::model::Job;
use crate::report::text::clean_time;
use crate::report::wording::{lower_first, upper_first};
use crate::report::{CaseResult, CauseStanding, DefectShown, HeldShown};

use super::block::{Block, Page, Pair, Reader, Section};
use super::danger::{self, Danger};
use super::left_off;
use super::pieces::led;
use super::plain;

pub(super) fn page(result: &CaseResult) -> Page {
    let sections = vec![
        Section::new(stop_title(result), stop(result)),
        Section::new(
            "Why we came",
            vec![Block::Text(plain::complaint(&result.complaint).to_owned())],
        ),
        Section::new("What we found", found(result)),
        Section::new("What was done", done(result)),
        Section::new("What has to be done, and by whom", to_do(result)),
        Section::new("We saw this as well", noted(result)),
        Section::new("What was dangerous, and what made it safe", made_safe(result)),
        Section::new(until_title(result), until_then(result)),
        Section::new("How you will know that it is right", how_known(result)),
        Section::new(
            "Signed: this page was explained; no work is ordered by it",
            vec![Block::Signatures(vec!["Explained by", "Customer"])],
        ),
    ];
    Page {
        reader: Reader::Customer,
        title: "What we found at your equipment".to_owned(),
        head: head(result),
        lead: Vec::new(),
        sections,
        foot: Vec::new(),
    }
}

/// Where, what, when and who; what the case does not know is left to be written in.
fn head(result: &CaseResult) -> Vec<Pair> {
    const BLANK: &str = "____________________";
    let head = &result.head;
    let kind = plain::equipment(&result.equipment);
    let says_kind = |unit: &str| unit.to_lowercase().contains(&kind.to_lowercase());
    let equipment = match &head.unit {
        Some(unit) if says_kind(unit) => unit.clone(),
        Some(unit) => format!("{kind}, {unit}"),
        None => kind.to_owned(),
    };
    let names = head.technicians().join(", ");
    [
        ("Place", head.place.clone()),
        ("Equipment", Some(equipment)),
        ("Date", head.last.or(head.opened).map(|at| head.long_day(at))),
        ("Technician", Some(names).filter(|names| !names.is_empty())),
        ("Call us", None),
    ]
    .into_iter()
    .map(|(label, text)| Pair::new(label, text.unwrap_or_else(|| BLANK.to_owned())))
    .collect()
}

/// The least probability, 0 to 1, from which a reason is told although it was not safe to go on.
const LIKELY: f64 = 0.55;

fn halted(result: &CaseResult) -> bool {
    result.conclusion.kind == "halted"
}

/// Whether a stop is about checks that are missing and not about something dangerous that was found.
fn only_unproven(result: &CaseResult) -> bool {
    let stop = result.conclusion.stop.as_deref();
    stop.is_some_and(plain::is_stop_unproven) && dangers(result).is_empty()
}

const fn stop_title(result: &CaseResult) -> &'static str {
    if result.closed.is_some() {
        "When we came, it was not safe"
    } else {
        "Do this now"
    }
}

/// What whoever lives there has to do at once, before anything else is read.
fn stop(result: &CaseResult) -> Vec<Block> {
    if !halted(result) || only_unproven(result) {
        return Vec::new();
    }
    let orders = plain::stop(result.conclusion.stop.as_deref().unwrap_or_default());
    if result.closed.is_none() {
        return orders
            .iter()
            .enumerate()
            .map(|(number, order)| Block::Strong(format!("{}. {order}", number + 1)))
            .collect();
    }
    let mut blocks = vec![Block::Text("We told you then:".to_owned())];
    blocks.push(Block::Points(orders.to_vec()));
    blocks.push(Block::Strong(format!(
        "This holds until somebody has written here that it was made safe. {MADE_SAFE}"
    )));
    blocks
}

fn said(cause: &CauseStanding) -> String {
    plain::cause(&cause.cause, cause.place).to_owned()
}

/// The conclusion in plain words.
fn found(result: &CaseResult) -> Vec<Block> {
    if let Some(closed) = &result.closed {
        let cause = closed.cause.as_deref().map(plain::known_cause);
        return vec![Block::Strong(match cause {
            Some(Some(text)) => text.to_owned(),
            _ => "We found the cause. The technician will tell you what it was.".to_owned(),
        })];
    }
    let told: Vec<&CauseStanding> = led(result).collect();
    match (result.conclusion.kind, told.as_slice()) {
        ("halted", _) if only_unproven(result) => vec![Block::Text(
            "Your equipment is not switched on yet. Some checks before the first start are still missing. Nothing bad was \
             found so far."
                .to_owned(),
        )],
        ("halted", told) => {
            let mut blocks = vec![Block::Text(
                "We stopped, because something has to be made safe first.".to_owned(),
            )];
            if let Some(first) = told.first().filter(|first| first.probability >= LIKELY) {
                blocks.push(Block::Strong(format!("The most likely reason: {}", said(first))));
            }
            blocks
        }
        ("found", [first, ..]) => vec![Block::Strong(said(first))],
        ("likely", [first, ..]) if plain::nothing_broken(&first.cause) => vec![
            Block::Strong(said(first)),
            Block::Text("We want to look once more to be sure.".to_owned()),
        ],
        ("likely", [first, ..]) => vec![
            Block::Strong(format!("Most likely: {}", said(first))),
            Block::Text(
                if utility(first.trade) {
                    "We are not sure yet. The check at the meter (below) will tell."
                } else {
                    "We are not sure yet. We measure once more before any part is bought. That visit: __________"
                }
                .to_owned(),
            ),
        ],
        ("open", [first]) if plain::nothing_broken(&first.cause) => vec![Block::Text(
            "So far we found nothing wrong. Not everything was checked yet.".to_owned(),
        )],
        ("open", [first]) => vec![Block::Text(format!(
            "We do not know the reason for sure yet. So far this fits best: {}",
            said(first)
        ))],
        ("open", [_, _, ..]) => vec![
            Block::Text("We do not know the reason for sure yet. It may be one of these:".to_owned()),
            Block::Points(
                told.iter()
                    .filter(|cause| !plain::nothing_broken(&cause.cause))
                    .map(|cause| said(cause))
                    .collect(),
            ),
        ],
        _ if !result.given.iter().any(|one| one.known && ["look", "reading"].contains(&one.kind)) => {
            vec![Block::Text(
                "We do not know the reason yet. Nothing was checked on this visit so far.".to_owned(),
            )]
        }
        _ => vec![Block::Text(
            "We do not know the reason yet. What we saw does not fit any of the usual ones.".to_owned(),
        )],
    }
}

/// Each thing that was done once, with who did it and when.
fn done(result: &CaseResult) -> Vec<Block> {
    let mut points: Vec<(String, String)> = Vec::new();
    let mut add = |text: &str, by: String| {
        let same = |known: &String| known.eq_ignore_ascii_case(text.trim().trim_end_matches('.'));
        if !text.trim().is_empty() && !points.iter().any(|(known, _)| same(known)) {
            points.push((text.trim().trim_end_matches('.').to_owned(), by));
        }
    };
    for repair in &result.head.repairs {
        let day = result.head.long_day(repair.at);
        add(&repair.text, format!(" ({day}{})", repair.by_whom()));
    }
    if let Some(closed) = &result.closed {
        add(&closed.text, String::new());
    }
    if points.is_empty() {
        return Vec::new();
    }
    vec![
        Block::Text("In the technician's own words:".to_owned()),
        Block::Points(
            points
                .into_iter()
                .map(|(text, by)| format!("{text}{by}"))
                .collect(),
        ),
    ]
}

/// Who has it to do.
const fn who(job: Job) -> &'static str {
    match job {
        Job::Utility => {
            "The power company has to do this. The part belongs to them. Call them at the number on your bill. Give them \
             our page for the electrician: our measurements stand on it."
        }
        Job::Electrician => {
            "A licensed electrician has to do this. Give the electrician our page for the electrician: it says what to do."
        }
        Job::HvacTechnician => "Our technician does this.",
        Job::UtilityOrElectrician => {
            "Call the power company first, at the number on your bill. They check at the meter. If they find it on their \
             side, they repair it. If not, a licensed electrician has to: give the electrician our page for the electrician."
        }
        Job::GasFitter => "The gas company or a licensed gas worker has to do this.",
        Job::SourceDealer => "The company that sold or set up your generator or battery has to do this.",
        Job::CheckLocally => {
            "Local rules say who does this: [ ] our technician  [ ] a licensed electrician. We tell you which one."
        }
    }
}

/// The cause that is sure enough to say who repairs it.
fn sure_cause(result: &CaseResult) -> Option<&CauseStanding> {
    let first = led(result).next()?;
    match result.conclusion.kind {
        "found" | "likely" => Some(first),
        "halted" if first.probability >= LIKELY => Some(first),
        _ => None,
    }
}

fn to_do(result: &CaseResult) -> Vec<Block> {
    if result.closed.is_some() {
        return Vec::new();
    }
    let text = match sure_cause(result) {
        Some(cause) if plain::nothing_broken(&cause.cause) => "Nothing has to be repaired.",
        Some(cause) if result.conclusion.kind == "likely" && !utility(cause.trade) => {
            return vec![Block::Text(format!(
                "If that measurement agrees: {}",
                lower_first(who(cause.trade))
            ))];
        }
        Some(cause) => who(cause.trade),
        None if only_unproven(result) => "The missing checks are made by: ______________ on: __________",
        None => "More has to be checked before anything is repaired or bought. We do that on: __________",
    };
    vec![Block::Text(text.to_owned())]
}

const fn utility(job: Job) -> bool {
    matches!(job, Job::Utility | Job::UtilityOrElectrician)
}

/// The defects that are not put right with the cause itself. What no proof says was put right is among them, and gas and fumes are
/// in any case.
fn besides(result: &CaseResult) -> Vec<&DefectShown> {
    let known = match &result.closed {
        Some(closed) if closed.proved => result
            .standing
            .iter()
            .find(|cause| Some(&cause.cause) == closed.cause.as_ref()),
        Some(_) => None,
        None => sure_cause(result),
    };
    result
        .defects
        .iter()
        .filter(|defect| {
            let with_it =
                |cause: &CauseStanding| cause.supporting.iter().any(|item| item.test == defect.test);
            danger::is_fumes(defect) || !known.is_some_and(with_it)
        })
        .collect()
}

/// What is written down as made safe, to be signed by who saw it.
fn made_safe(result: &CaseResult) -> Vec<Block> {
    let cleared = result.closed.as_ref().map_or(&[][..], |closed| &closed.cleared);
    if cleared.is_empty() {
        return Vec::new();
    }
    vec![
        Block::Text("In the technician's own words:".to_owned()),
        Block::Points(cleared.to_vec()),
        Block::Text(MADE_SAFE.to_owned()),
    ]
}

/// Who made a danger safe is signed for.
const MADE_SAFE: &str = "Made safe on __________ by ______________";

/// What could hurt somebody and is not known to be put right.
fn dangers(result: &CaseResult) -> Vec<String> {
    danger::noted(result.defects.iter())
        .into_iter()
        .filter(|(danger, _)| *danger < Danger::Upkeep)
        .map(|(_, text)| text)
        .collect()
}

/// What was seen besides, each thing in a line, what can hurt first.
fn noted(result: &CaseResult) -> Vec<Block> {
    let all = danger::noted(besides(result).into_iter());
    let (upkeep, dangers): (Vec<_>, Vec<_>) =
        all.into_iter().partition(|(danger, _)| *danger == Danger::Upkeep);
    let texts = |of: Vec<(Danger, String)>| Block::Points(of.into_iter().map(|(_, text)| text).collect());
    let mut blocks = Vec::new();
    if !dangers.is_empty() {
        blocks.push(Block::Strong(
            "This can become a danger. Have it put right soon:".to_owned(),
        ));
        blocks.push(texts(dangers));
        blocks.push(Block::Text(MADE_SAFE.to_owned()));
    } else if is_left_standing(result) {
        blocks.push(Block::Strong(format!(
            "Something here is not safe yet. Ask the technician what it is. {MADE_SAFE}"
        )));
    }
    if !upkeep.is_empty() {
        blocks.push(Block::Text("To be put right on the same visit:".to_owned()));
        blocks.push(texts(upkeep));
    }
    blocks
}

/// Whether anything keeps the equipment from being used: a stop, a danger that was found, or a hold that was raised.
fn leave_off(result: &CaseResult) -> bool {
    let open = match &result.closed {
        Some(_) => besides(result).into_iter().collect::<Vec<_>>(),
        None => result.defects.iter().collect(),
    };
    halted(result)
        || is_left_standing(result)
        || (!is_proved(result)
            && result
                .held
                .iter()
                .any(|hold| !hold.of_the_work && !is_unlooked(result, hold)))
        || open.into_iter().any(danger::keeps_off)
}

/// Whether it was closed with a danger that nobody cleared.
fn is_left_standing(result: &CaseResult) -> bool {
    let closed = result.closed.as_ref();
    closed.is_some_and(|closed| !closed.standing.is_empty())
}

fn is_proved(result: &CaseResult) -> bool {
    result.closed.as_ref().is_some_and(|closed| closed.proved)
}

fn is_unlooked(result: &CaseResult, hold: &HeldShown) -> bool {
    result.not_looked_at.iter().any(|one| one.hold == hold.hold)
}

/// Whether nobody knows yet that it may be used: it was not looked over, or the complaint or what is likely forbids it. Of
/// a defect only its words are known; a danger that has none is found here.
fn is_unproven(result: &CaseResult) -> bool {
    if is_proved(result) {
        return false;
    }
    let known = sure_cause(result).is_some();
    !result.not_looked_at.is_empty()
        || plain::complaint_keeps_off(&result.complaint, known)
        || match &result.closed {
            Some(closed) => closed.cause.as_deref().is_some_and(plain::cause_keeps_off),
            None => left_off::by_its_causes(&result.standing),
        }
}

/// Whether what was told keeps it off for as long as it lasts: it chatters, hums, smells or trips at once.
fn lasts(result: &CaseResult) -> bool {
    let is_fine = sure_cause(result).is_some_and(|cause| plain::nothing_broken(&cause.cause));
    let told = result.given.iter().filter(|one| one.known);
    let told = told.filter_map(|one| Some((one.id.as_str(), one.outcome.as_deref()?)));
    result.closed.is_none() && !is_fine && plain::lasting_keeps_off(&result.complaint, told)
}

const fn until_title(result: &CaseResult) -> &'static str {
    if result.closed.is_some() {
        "Using it"
    } else {
        "Until then"
    }
}

/// What holds until a cause is put right, if one of those that are likely asks for more than leaving it off.
pub(super) fn meanwhile(result: &CaseResult) -> Option<String> {
    if result.closed.is_some() || halted(result) {
        return None;
    }
    const LEAD: &str = "Leave it off until it has been put right";
    let mut says = left_off::meanwhile(&result.standing).into_iter();
    let mut text = says.next()?.to_owned();
    for more in says {
        // Said once is enough.
        let rest = more
            .strip_prefix(LEAD)
            .filter(|_| text.contains(LEAD))
            .unwrap_or(more);
        let rest = rest
            .trim_start_matches([':', ',', ' '])
            .trim_start_matches("and ");
        text.push(' ');
        text.push_str(&upper_first(rest));
    }
    Some(text)
}

/// What holds of a breaker wherever it is left off.
const BREAKER: &str = "If a safety switch (breaker) has turned off, do not turn it back on: call us.";

fn until_then(result: &CaseResult) -> Vec<Block> {
    let mut blocks = Vec::new();
    let it = plain::equipment(&result.equipment);
    if let Some(says) = meanwhile(result) {
        let says = says.replacen("Leave it off", &format!("Leave it off ({it})"), 1);
        blocks.push(Block::Strong(says));
    }
    // Both hold where both are so: what a cause asks for never takes the place of a stop, and the stop not of that.
    if leave_off(result) {
        let until = if only_unproven(result) {
            format!("Leave it off ({it}) until the missing checks have been made.")
        } else if result.closed.is_some() {
            format!("Leave it off ({it}) until what is listed above has been put right. Ask us first.")
        } else {
            // What a cause asks for may have said the first half already.
            if meanwhile(result).is_some_and(|says| says.contains("Leave it off until")) {
                BREAKER.to_owned()
            } else {
                format!("Leave it off ({it}) until it has been put right. {BREAKER}")
            }
        };
        blocks.push(Block::Strong(until));
    } else if is_proved(result) {
        return Vec::new();
    } else if lasts(result) || is_unproven(result) {
        let mut unlooked = result.not_looked_at.iter();
        let unlooked = unlooked.find_map(|hold| plain::unlooked(&hold.hold));
        let first = unlooked.map_or_else(String::new, |says| format!("{says} "));
        // What a cause asks for may have said the rest already.
        if lasts(result) {
            let text = format!(
                "{first}Leave it off at the thermostat ({it}) until it has been put right. {BREAKER}"
            );
            blocks.push(Block::Strong(text));
        } else if unlooked.is_some() || meanwhile(result).is_none() {
            let text = format!("{first}Leave it off ({it}) until we have checked it. {BREAKER}");
            blocks.push(Block::Strong(text));
        }
    } else {
        blocks.push(Block::Strong(
            "You may use it as usual. If a safety switch (breaker) turns off, leave it off and call us."
                .to_owned(),
        ));
    }
    if plain::burns_fuel(&result.equipment, &result.complaint) || result.defects.iter().any(danger::is_fumes)
    {
        blocks.push(Block::Text(
            "Smell of gas: touch no switch and no phone inside. Everybody out, and call the gas company or 911 from outside. \
             Headache, dizziness or a carbon monoxide alarm: everybody out, and call 911."
                .to_owned(),
        ));
    }
    blocks.push(Block::Text(
        "Burnt smell, smoke, sparks, or a tingle from metal: touch nothing there. Get everybody away, and call 911 from a \
         safe place."
            .to_owned(),
    ));
    blocks
}

fn how_known(result: &CaseResult) -> Vec<Block> {
    const BLANK: &str = "Tested and right on __________ by ______________";
    if let Some(closed) = &result.closed {
        let is_repaired = !result.head.repairs.is_empty();
        let text = match (closed.proved, leave_off(result)) {
            // That it runs is no proof that nobody is hurt by it.
            (true, _) if halted(result) => {
                "It was written down that it runs as it should. What we told you to do still holds, until somebody has \
                 written at the top that it was made safe."
            }
            (true, false) if is_repaired => {
                "We checked the repair, and it is right now. If the trouble comes back, tell us right away."
            }
            (true, false) => {
                "We checked it, and it is right now. If the trouble comes back, tell us right away."
            }
            (true, true) if is_repaired => {
                "We checked this repair, and it is right. What is listed above is still open."
            }
            (true, true) => "We checked it. What is listed above is still open.",
            (false, _) if !is_repaired => {
                "No repair is written down here, and nothing was proved by a measurement yet. We come back to measure it."
            }
            (false, _) => {
                "This was repaired, but it has not been proved by a measurement yet. We come back to measure it."
            }
        };
        let mut blocks = vec![Block::Text(text.to_owned())];
        if !closed.proved {
            blocks.push(Block::Text(BLANK.to_owned()));
        }
        return blocks;
    }
    let cause = sure_cause(result);
    let text = match cause.map(|cause| cause.trade) {
        _ if cause.is_some_and(|cause| plain::nothing_broken(&cause.cause)) => {
            "If it happens more often, or gets worse, call us: then we measure again."
        }
        _ if only_unproven(result) => "We switch it on with you, and show you that it runs as it should.",
        Some(
            Job::Utility | Job::UtilityOrElectrician | Job::Electrician | Job::SourceDealer | Job::GasFitter,
        ) => {
            "When whoever repairs it has been here, call us before you switch on what we told you to leave off. We start it, \
             measure again, and tell you the result."
        }
        Some(_) | None => {
            "After the repair we run it as before, check that the trouble stays away, and tell you the result."
        }
    };
    let mut blocks = vec![Block::Text(text.to_owned())];
    if let Some(time) = clean_time(result) {
        blocks.push(Block::Text(format!(
            "It also has to run for {time} without the trouble. Only then can we be sure."
        )));
    }
    blocks.push(Block::Text(BLANK.to_owned()));
    blocks
}
