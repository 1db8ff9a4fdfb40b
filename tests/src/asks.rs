//! Requests that stand in the data as protobuf JSON: asked in their order, with numbers of one
//! answer put into the next.

use std::collections::BTreeMap;

use fishplate_proto::json::{from_json, to_json};
use serde_json::Value;

use crate::service;
use crate::sheet::{Line, Sheet};

/// Asks everything that the case `id` of `data` asks and reads its quantities.
///
/// A case lists `asks`, each with a name (`as`), a `request` and its `body`. In a body the text
/// `=name/pointer` is the number at that JSON pointer of the answer `name`, and `=-name/pointer`
/// the same with its sign turned. A quantity tells by `take` where it is found, as a pointer behind
/// the name of the answer, or by `row` and `take` in the row of an answer about a part; `over`
/// divides it.
///
/// # Errors
/// What the service refuses and every quantity that is not in the answers.
///
/// # Panics
/// When the file is not of that form.
pub fn lines(data: &str, id: &str) -> Result<Vec<Line>, Vec<String>> {
    let file: Value = serde_json::from_str(data).expect("the data files are JSON");
    let list = file["cases"].as_array().expect("a data file lists its cases");
    let case = list.iter().find(|case| case["id"] == id);
    let case = case.unwrap_or_else(|| panic!("no case {id} in the data"));
    let mut answers: BTreeMap<String, Value> = BTreeMap::new();
    for ask in case["asks"].as_array().expect("a case lists what it asks") {
        let name = text(&ask["as"]);
        let told = |why: String| vec![format!("{id}, {name}: {why}")];
        let mut body = ask["body"].clone();
        fill(&mut body, &answers).map_err(told)?;
        let answer = asked(text(&ask["request"]), &body).map_err(told)?;
        answers.insert(name.to_owned(), answer);
    }
    let mut sheet = Sheet::of(data, id);
    let mut missing = Vec::new();
    for quantity in case["quantities"].as_array().expect("a case lists its quantities") {
        let name = text(&quantity["name"]);
        match taken(quantity, &answers) {
            Ok(value) => sheet.got(name, value / quantity["over"].as_f64().unwrap_or(1.0)),
            Err(why) => missing.push(format!("{id}, {name}: {why}")),
        }
    }
    if missing.is_empty() { Ok(sheet.lines()) } else { Err(missing) }
}

/// The names of all cases of `data`, in its order.
///
/// # Panics
/// When the file is not of its form.
#[must_use]
pub fn ids(data: &str) -> Vec<String> {
    let file: Value = serde_json::from_str(data).expect("the data files are JSON");
    let list = file["cases"].as_array().expect("a data file lists its cases");
    list.iter().map(|case| text(&case["id"]).to_owned()).collect()
}

fn text(value: &Value) -> &str {
    value.as_str().unwrap_or_else(|| panic!("{value} is no text"))
}

/// Puts numbers of earlier answers into a body.
fn fill(body: &mut Value, answers: &BTreeMap<String, Value>) -> Result<(), String> {
    match body {
        Value::Object(fields) => fields.values_mut().try_for_each(|value| fill(value, answers)),
        Value::Array(entries) => entries.iter_mut().try_for_each(|value| fill(value, answers)),
        Value::String(place) => {
            let Some(place) = place.strip_prefix('=') else { return Ok(()) };
            let (sign, place) = match place.strip_prefix('-') {
                Some(place) => (-1.0, place),
                None => (1.0, place),
            };
            *body = Value::from(sign * pointed(place, answers)?);
            Ok(())
        }
        Value::Null | Value::Bool(_) | Value::Number(_) => Ok(()),
    }
}

/// The number at `name/pointer`; fields with their default value are left out of the JSON.
fn pointed(place: &str, answers: &BTreeMap<String, Value>) -> Result<f64, String> {
    let (name, pointer) = place.split_once('/').ok_or_else(|| format!("{place} has no pointer"))?;
    let answer = answers.get(name).ok_or_else(|| format!("no answer {name}"))?;
    let pointer = format!("/{pointer}");
    let number = answer.pointer(&pointer).and_then(Value::as_f64);
    number.ok_or_else(|| format!("no number at {pointer} of {answer:#}"))
}

fn taken(quantity: &Value, answers: &BTreeMap<String, Value>) -> Result<f64, String> {
    let take = text(&quantity["take"]);
    let Some(row) = quantity.get("row") else { return pointed(take, answers) };
    let row = text(row);
    let (name, take) = take.split_once('/').ok_or_else(|| format!("{take} names no answer"))?;
    let answer = answers.get(name).ok_or_else(|| format!("no answer {name}"))?;
    let rows = answer["rows"].as_array().into_iter().flatten();
    let found = rows.clone().find(|found| found["what"] == row);
    let found = found.ok_or_else(|| {
        let known: Vec<_> = rows.map(|row| row["what"].to_string()).collect();
        format!("no row `{row}`, but {}", known.join(", "))
    })?;
    if let Some(symbol) = take.strip_prefix("step:") {
        let steps = found["derivation"].as_array().into_iter().flatten();
        // A running sum bears its name again: the last is the whole.
        let step = steps.rev().find(|step| step["symbol"] == symbol);
        let step = step.ok_or_else(|| {
            let known = found["derivation"].as_array().into_iter().flatten();
            let known: Vec<_> = known.map(|step| step["symbol"].to_string()).collect();
            format!("no step {symbol}, but {}; {}", known.join(", "), found["notCheckedReason"])
        })?;
        return Ok(step["value"].as_f64().unwrap_or_default());
    }
    let number = found[take].as_f64();
    number.ok_or_else(|| format!("no {take}; {}", found["notCheckedReason"]))
}

/// Asks the service what `body`, the JSON of the message `request`, says; the answer as JSON.
///
/// # Errors
/// What the service refuses, or why the body is not that message.
pub fn asked(request: &str, body: &Value) -> Result<Value, String> {
    let body = body.to_string();
    macro_rules! call {
        ($call:path, $answer:literal) => {{
            let request = from_json(request, &body).map_err(|error| error.to_string())?;
            let answer = $call(&request).map_err(|status| told(&status))?;
            to_json($answer, &answer).map_err(|error| error.to_string())?
        }};
    }
    let answer = match request {
        "CheckBoltRequest" => call!(service::check_bolt, "PartAnswer"),
        "CheckWeldRequest" => call!(service::check_weld, "PartAnswer"),
        "CheckMemberRequest" => call!(service::check_member, "PartAnswer"),
        "CheckPlateRequest" => call!(service::check_plate, "PartAnswer"),
        "CheckFatigueRequest" => call!(service::check_fatigue, "PartAnswer"),
        "SectionPropertiesRequest" => {
            call!(service::section_properties, "SectionPropertiesResponse")
        }
        "SolveStructureRequest" => call!(service::solve, "SolveStructureResponse"),
        other => return Err(format!("{other} is not asked here")),
    };
    serde_json::from_str(&answer).map_err(|error| error.to_string())
}

fn told(status: &tonic::Status) -> String {
    let refusal = crate::refusal::Refusal::of(status);
    format!("{} {:?}", refusal.message, refusal.fields)
}
