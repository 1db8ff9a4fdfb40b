//! Choices that are rows of a table.

use fishplate_quantity::Fault;

use crate::catalog::{BoltClass, Thread, find_bolt_class, find_thread};

use super::{ChoiceKind, Chosen, Given};

impl Chosen for Thread {
    const KIND: ChoiceKind = ChoiceKind::Row("a thread: M12, M12x1.25, 1/2-13");

    fn read(
        symbol: &'static str,
        what: &'static str,
        given: &mut dyn Given,
        faults: &mut Vec<Fault>,
    ) -> Option<Self> {
        let Some(name) = given.word(symbol) else {
            faults.push(Fault::new(symbol, "nothing", "a thread: M12, M12x1.25, 1/2-13", what));
            return None;
        };
        find_thread(&name)
            .map_err(|e| {
                faults.push(Fault::new(symbol, name, "a thread of the table", e.to_string()))
            })
            .ok()
    }
}

/// The strength of a class depends on the diameter: an input with a class has its `thread` beside.
impl Chosen for BoltClass {
    const KIND: ChoiceKind = ChoiceKind::Row("a property class or grade: 8.8, 10.9, SAE 5");

    fn read(
        symbol: &'static str,
        what: &'static str,
        given: &mut dyn Given,
        faults: &mut Vec<Fault>,
    ) -> Option<Self> {
        let Some(name) = given.word(symbol) else {
            faults.push(Fault::new(
                symbol,
                "nothing",
                "a property class or grade: 8.8, SAE 5",
                what,
            ));
            return None;
        };
        // A thread that is not known has its own fault.
        let thread = given.word("thread").and_then(|name| find_thread(&name).ok())?;
        find_bolt_class(&name, thread.d)
            .map_err(|e| {
                faults.push(Fault::new(symbol, name, "a class of the table", e.to_string()))
            })
            .ok()
    }
}
