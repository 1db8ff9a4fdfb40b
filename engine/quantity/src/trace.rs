//! The derivation: what is printed is the very expression that ran.
//!
//! A [`Trace`] is either on, and keeps one [`Entry`] for every number, or off, and keeps nothing.
//! Numbers enter through [`Trace::input`] with their [`Provenance`]; [`step!`](crate::step) computes from them.
//! Values are SI; printing chooses mm, N, MPa by [`Dimension`].

use crate::algebra::abs;

/// What a number measures: chooses the unit it is printed in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Dimension {
    /// A pure number.
    Ratio,
    /// m, printed in mm.
    Length,
    /// m², printed in mm².
    Area,
    /// m³, printed in mm³.
    SectionModulus,
    /// m⁴, printed in mm⁴.
    SecondMoment,
    /// m⁶, printed in mm⁶.
    Warping,
    /// N.
    Force,
    /// N m.
    Moment,
    /// N m², printed in N m²: the bimoment of restrained torsion.
    Bimoment,
    /// Pa, printed in MPa.
    Stress,
    /// N/m, printed in N/mm: force per length of a weld or wall.
    LineForce,
    /// N/m, printed in N/mm: force per movement.
    Stiffness,
    /// rad, printed in degrees.
    Angle,
    /// m, printed in km: a way driven.
    Distance,
    /// kg.
    Mass,
    /// m/s².
    Acceleration,
}

impl Dimension {
    /// The unit it is printed in.
    #[must_use]
    pub fn unit(self) -> &'static str {
        match self {
            Self::Ratio => "",
            Self::Length => "mm",
            Self::Area => "mm²",
            Self::SectionModulus => "mm³",
            Self::SecondMoment => "mm⁴",
            Self::Warping => "mm⁶",
            Self::Force => "N",
            Self::Moment => "N m",
            Self::Bimoment => "N m²",
            Self::Stress => "MPa",
            Self::LineForce | Self::Stiffness => "N/mm",
            Self::Angle => "°",
            Self::Distance => "km",
            Self::Mass => "kg",
            Self::Acceleration => "m/s²",
        }
    }

    /// The value in the printed unit.
    #[must_use]
    pub fn printed(self, si: f64) -> f64 {
        match self {
            Self::Ratio
            | Self::Force
            | Self::Moment
            | Self::Bimoment
            | Self::Mass
            | Self::Acceleration => si,
            Self::Length => si * 1e3,
            Self::Area => si * 1e6,
            Self::SectionModulus => si * 1e9,
            Self::SecondMoment => si * 1e12,
            Self::Warping => si * 1e18,
            Self::Stress => si * 1e-6,
            Self::LineForce | Self::Stiffness | Self::Distance => si * 1e-3,
            Self::Angle => si.to_degrees(),
        }
    }
}

/// Where a formula comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Source {
    /// Title and edition: `EN 1993-1-8:2005`.
    pub document: &'static str,
    /// Clause, table or page: `Table 3.4`.
    pub place: &'static str,
}

impl Source {
    /// A formula of a published document.
    #[must_use]
    pub const fn new(document: &'static str, place: &'static str) -> Self {
        Self { document, place }
    }

    /// Equilibrium, geometry or elementary strength of materials.
    #[must_use]
    pub const fn mechanics(place: &'static str) -> Self {
        Self { document: "mechanics", place }
    }

    /// What the trade does, without a publication behind it.
    #[must_use]
    pub const fn practice(place: &'static str) -> Self {
        Self { document: "common practice, no source", place }
    }
}

/// How a number got in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Provenance {
    /// Entered in the project at this path, measured or from a drawing.
    Given(String),
    /// Entered in the project at this path and marked as a guess.
    Guessed(String),
    /// Found by the frame solver or by equilibrium; the text says where and in which case.
    Solved(String),
    /// A row of a table of the catalogue.
    Table(String),
    /// A factor of the rule pack or of the project; the text says which.
    Factor(String),
    /// Taken for granted; the text says what.
    Assumed(String),
    /// Computed from the shape of a part; the text says which.
    Geometry(String),
}

/// One number of a derivation.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// The symbol, in the ASCII spelling of the standard: `f_v_rd`.
    pub symbol: &'static str,
    /// What it is, in words.
    pub what: &'static str,
    /// What it measures.
    pub dimension: Dimension,
    /// Its value in SI.
    pub value: f64,
    /// Where it came from.
    pub origin: Origin,
}

/// Where an entry came from.
#[derive(Debug, Clone, PartialEq)]
pub enum Origin {
    /// It came in from outside the derivation.
    Leaf(Provenance),
    /// It was computed here.
    Step {
        /// The text of the expression that ran.
        expression: &'static str,
        /// The numbers that went in, by symbol.
        operands: Vec<(&'static str, f64)>,
        /// Where the formula comes from.
        source: Source,
    },
}

/// The derivation of one row, or nothing when tracing is off.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Trace {
    entries: Option<Vec<Entry>>,
    notes: Vec<String>,
}

impl Trace {
    /// A trace that keeps nothing: for batches.
    #[must_use]
    pub fn off() -> Self {
        Self::default()
    }

    /// A trace that keeps everything.
    #[must_use]
    pub fn on() -> Self {
        Self { entries: Some(Vec::new()), notes: Vec::new() }
    }

    /// Whether entries are kept.
    #[must_use]
    pub fn is_on(&self) -> bool {
        self.entries.is_some()
    }

    /// Lets a number in. `provenance` is only asked when the trace is on.
    pub fn input(
        &mut self,
        symbol: &'static str,
        what: &'static str,
        dimension: Dimension,
        value: f64,
        provenance: impl FnOnce() -> Provenance,
    ) -> f64 {
        if let Some(entries) = &mut self.entries {
            let origin = Origin::Leaf(provenance());
            entries.push(Entry { symbol, what, dimension, value, origin });
        }
        value
    }

    /// Keeps a computed number; called by [`step!`](crate::step).
    pub fn record(
        &mut self,
        symbol: &'static str,
        what: &'static str,
        dimension: Dimension,
        value: f64,
        computed: (&'static str, &[(&'static str, f64)], Source),
    ) {
        if let Some(entries) = &mut self.entries {
            let (expression, operands, source) = computed;
            let operands = operands.to_vec();
            let origin = Origin::Step { expression, operands, source };
            entries.push(Entry { symbol, what, dimension, value, origin });
        }
    }

    /// Adds a remark the reader must see beside the numbers; `text` is only asked when on.
    pub fn note(&mut self, text: impl FnOnce() -> String) {
        if self.is_on() {
            self.notes.push(text());
        }
    }

    /// The entries, first to last.
    #[must_use]
    pub fn entries(&self) -> &[Entry] {
        self.entries.as_deref().unwrap_or(&[])
    }

    /// The remarks, first to last.
    #[must_use]
    pub fn notes(&self) -> &[String] {
        &self.notes
    }

    /// The numbers of entry `index` put into its expression, as one reads it on paper; empty for
    /// a number that came in from outside.
    #[must_use]
    pub fn numbers(&self, index: usize) -> String {
        let entries = self.entries();
        let Some(Entry { origin: Origin::Step { expression, operands, .. }, .. }) =
            entries.get(index)
        else {
            return String::new();
        };
        substitute(expression, |name| {
            let value = operands.iter().find(|(symbol, _)| *symbol == name)?.1;
            let dimension = entries[..index].iter().rev().find(|e| e.symbol == name)?.dimension;
            Some(quantity_text(value, dimension))
        })
    }

    /// Operands that entered a step without having been an entry before: none in a sound trace.
    #[must_use]
    pub fn orphans(&self) -> Vec<&'static str> {
        let mut known: Vec<&str> = Vec::new();
        let mut orphans = Vec::new();
        for entry in self.entries() {
            if let Origin::Step { operands, .. } = &entry.origin {
                orphans.extend(operands.iter().map(|o| o.0).filter(|o| !known.contains(o)));
            }
            known.push(entry.symbol);
        }
        orphans
    }
}

/// Computes and records in one line:
///
/// `step!(trace, Stress, EN_4_1, "comparison stress"; sigma_eq(sigma_perp, tau_perp, tau_par) =
/// sqrt(sq(sigma_perp) + 3.0 * (sq(tau_perp) + sq(tau_par))));`
///
/// binds `sigma_eq`. The operands in brackets are the only variables the expression can see, so
/// the printed list of numbers is complete; the printed formula is made of the same tokens.
#[macro_export]
macro_rules! step {
    ($trace:expr, $dimension:ident, $source:expr, $what:expr;
     $name:ident($($operand:ident),* $(,)?) = $value:expr) => {
        // Taken before the binding: a running sum may bear the name of one of its operands.
        let operands: &[(&'static str, f64)] = &[$((stringify!($operand), $operand)),*];
        // The functions are in scope of the expression only: an operand may bear the name of one.
        let $name: f64 = ({
            #[allow(unused_imports)]
            use $crate::algebra::{
                abs, cos, cube, degrees, hypot, larger, ln, positive, power, share, sin, smaller,
                sq, sqrt, tan,
            };
            #[allow(clippy::too_many_arguments)]
            fn evaluated($($operand: f64),*) -> f64 {
                $value
            }
            evaluated
        })($($operand),*);
        if $trace.is_on() {
            $trace.record(
                stringify!($name),
                $what,
                $crate::Dimension::$dimension,
                $name,
                (stringify!($value), operands, $source),
            );
        }
    };
}

/// A number in its printed unit with four significant digits: `207.8 MPa`.
#[must_use]
pub fn quantity_text(si: f64, dimension: Dimension) -> String {
    let number = significant(dimension.printed(si), 4);
    let unit = dimension.unit();
    match unit {
        "" => number,
        "°" => format!("{number}°"),
        _ => format!("{number} {unit}"),
    }
}

/// `value` with `digits` significant digits, no exponent between 1e-3 and 1e7, never "-0".
#[must_use]
pub fn significant(value: f64, digits: usize) -> String {
    let size = abs(value);
    if !value.is_finite() {
        return "not a number".to_owned();
    }
    if size < 1e-12 {
        return "0".to_owned();
    }
    let magnitude = size.log10().floor();
    if (-3.0..7.0).contains(&magnitude) {
        // The range above keeps the magnitude within an i32.
        #[allow(clippy::cast_possible_truncation)]
        let whole_digits = magnitude as i32 + 1;
        let wanted = i32::try_from(digits).unwrap_or(i32::MAX).saturating_sub(whole_digits);
        let decimals = usize::try_from(wanted).unwrap_or(0);
        let text = format!("{value:.decimals$}");
        if text.contains('.') {
            text.trim_end_matches('0').trim_end_matches('.').to_owned()
        } else {
            text
        }
    } else {
        let decimals = digits.saturating_sub(1);
        format!("{value:.decimals$e}")
    }
}

/// `expression` with every name that `value_of` knows replaced; white space folded.
fn substitute(expression: &str, value_of: impl Fn(&str) -> Option<String>) -> String {
    let folded = expression.split_whitespace().collect::<Vec<_>>().join(" ");
    let mut out = String::new();
    let mut name = String::new();
    for c in folded.chars().chain(std::iter::once(' ')) {
        if c == '_' || c.is_alphanumeric() || (c == '.' && !name.is_empty()) {
            name.push(c);
            continue;
        }
        out.push_str(&value_of(&name).unwrap_or_else(|| name.clone()));
        name.clear();
        out.push(c);
    }
    out.trim_end().to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    const EQ: Source = Source::new("EN 1993-1-8:2005", "4.5.3.2 (4.1)");

    fn comparison(trace: &mut Trace) -> f64 {
        let given = || Provenance::Solved("test".to_owned());
        let sigma_perp = trace.input("sigma_perp", "normal", Dimension::Stress, 50e6, given);
        let tau_perp = trace.input("tau_perp", "across", Dimension::Stress, 40e6, given);
        let tau_par = trace.input("tau_par", "along", Dimension::Stress, 30e6, given);
        step!(trace, Stress, EQ, "comparison stress";
            sigma_eq(sigma_perp, tau_perp, tau_par) =
            sqrt(sq(sigma_perp) + 3.0 * (sq(tau_perp) + sq(tau_par))));
        sigma_eq
    }

    #[test]
    fn the_same_bits_come_out_traced_and_untraced() {
        let traced = comparison(&mut Trace::on());
        let untraced = comparison(&mut Trace::off());
        assert_eq!(traced.to_bits(), untraced.to_bits());
    }

    #[test]
    fn the_printed_numbers_are_those_that_went_in() {
        let mut trace = Trace::on();
        comparison(&mut trace);
        assert_eq!(trace.numbers(3), "sqrt(sq(50 MPa) + 3.0 * (sq(40 MPa) + sq(30 MPa)))");
        assert!(trace.orphans().is_empty());
        assert_eq!(quantity_text(trace.entries()[3].value, Dimension::Stress), "100 MPa");
    }

    #[test]
    fn a_trace_that_is_off_keeps_nothing() {
        let mut trace = Trace::off();
        comparison(&mut trace);
        trace.note(|| unreachable!("a trace that is off asks for no text"));
        assert!(trace.entries().is_empty());
    }

    #[test]
    fn a_running_sum_shows_what_it_was() {
        let mut trace = Trace::on();
        let given = || Provenance::Solved("test".to_owned());
        let sum = trace.input("sum", "so far", Dimension::Force, 100.0, given);
        let more = trace.input("more", "next", Dimension::Force, 20.0, given);
        step!(trace, Force, EQ, "sum"; sum(sum, more) = sum + more);
        assert!((sum - 120.0).abs() < 1e-12);
        assert_eq!(trace.numbers(2), "100 N + 20 N");
    }

    #[test]
    fn an_operand_without_origin_is_found() {
        let mut trace = Trace::on();
        let stray = 2.0;
        step!(trace, Ratio, EQ, "twice"; twice(stray) = 2.0 * stray);
        assert!(twice > 3.0);
        assert_eq!(trace.orphans(), vec!["stray"]);
    }

    #[test]
    fn numbers_keep_four_digits() {
        assert_eq!(significant(16_997.607, 4), "16998");
        assert_eq!(significant(0.123_456, 4), "0.1235");
        assert_eq!(significant(-0.0, 4), "0");
        assert_eq!(significant(2.2, 4), "2.2");
        assert_eq!(significant(3.86e8, 4), "3.860e8");
    }
}
