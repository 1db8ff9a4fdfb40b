//! Symbols and formulas: the text of the expression that ran, set as on paper.
//!
//! `sq(sigma_perp)` becomes σ⊥², `gamma_m2` γ_M2, `sqrt(x)` a root, `smaller(a, b)` min{a; b}, and
//! `if a { b } else { c }` cases. Nothing is left out; what cannot be read as a formula is printed
//! as it is, with its symbols set.

use crate::svg::writer::escape;

mod formula;
mod print;
mod value;

pub(crate) use formula::{Tree, read};
pub(crate) use print::{Setting, cases, formula, raw};
pub(crate) use value::{Known, agrees, chosen};

/// With which letters something is set.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hand {
    /// Markup of the page.
    Page,
    /// Letters of a terminal.
    Text,
    /// Those of them that every terminal has.
    Ascii,
}

/// Greek letters as they are spelt in code.
const GREEK: [(&str, &str); 24] = [
    ("alpha", "α"),
    ("beta", "β"),
    ("gamma", "γ"),
    ("delta", "δ"),
    ("epsilon", "ε"),
    ("zeta", "ζ"),
    ("eta", "η"),
    ("theta", "θ"),
    ("iota", "ι"),
    ("kappa", "κ"),
    ("lambda", "λ"),
    ("mu", "μ"),
    ("nu", "ν"),
    ("xi", "ξ"),
    ("omicron", "ο"),
    ("pi", "π"),
    ("rho", "ρ"),
    ("sigma", "σ"),
    ("tau", "τ"),
    ("upsilon", "υ"),
    ("phi", "φ"),
    ("chi", "χ"),
    ("psi", "ψ"),
    ("omega", "ω"),
];

/// A symbol: `f_v_rd` as F with subscript v,Rd; a word such as `lever_arm` as words. `unit` is that
/// of the quantity, where it is known: forces, moments and areas carry capitals in the standards.
pub(crate) fn symbol(name: &str, unit: Option<&str>, hand: Hand) -> String {
    let mut pieces = name.split('_').filter(|p| !p.is_empty());
    let Some(first) = pieces.next() else {
        return written(name, hand);
    };
    let rest: Vec<&str> = pieces.collect();
    if first == "sum" && !rest.is_empty() {
        let sign = if hand == Hand::Ascii { "sum " } else { "Σ" };
        return format!("{sign}{}", symbol(&rest.join("_"), unit, hand));
    }
    // A range: delta before another letter.
    if first == "delta" && !rest.is_empty() {
        let sign = if hand == Hand::Ascii { "delta " } else { "Δ" };
        return format!("{sign}{}", symbol(&rest.join("_"), unit, hand));
    }
    let (letters, digits) = trailing_digits(first);
    // A difference: the letter d before another one.
    if let Some(of) = letters.strip_prefix('d').filter(|of| of.len() == 1) {
        let sign = if hand == Hand::Ascii { "d" } else { "Δ" };
        return format!("{sign}{}", symbol(&name.replacen(letters, of, 1), unit, hand));
    }
    let base = match greek(letters, hand) {
        Some(letter) => letter.to_owned(),
        None if letters.chars().count() > 3 => {
            let apart = if hand == Hand::Page { " " } else { "_" };
            return written(&name.replace('_', apart), hand);
        }
        None if is_capital(letters, &rest, unit) => written(&letters.to_uppercase(), hand),
        None => written(letters, hand),
    };
    let mut below: Vec<String> = Vec::new();
    if !digits.is_empty() {
        below.push(digits.to_owned());
    }
    below.extend(rest.iter().map(|piece| subscript(piece, letters == "gamma", hand)));
    match (hand, below.is_empty()) {
        (Hand::Page, true) => format!("<i>{base}</i>"),
        (Hand::Page, false) => format!("<i>{base}</i><sub>{}</sub>", below.join(",")),
        (_, true) => base,
        (_, false) => format!("{base}_{}", below.join(",")),
    }
}

/// One piece of a subscript.
fn subscript(piece: &str, of_factor: bool, hand: Hand) -> String {
    match (piece, hand) {
        ("perp", Hand::Page | Hand::Text) => "⊥".to_owned(),
        ("par", Hand::Page | Hand::Text) => "∥".to_owned(),
        ("rd", _) => "Rd".to_owned(),
        ("ed", _) => "Ed".to_owned(),
        ("rk", _) => "Rk".to_owned(),
        _ if of_factor && piece.starts_with('m') => written(&piece.to_uppercase(), hand),
        _ => greek(piece, hand).map_or_else(|| written(piece, hand), str::to_owned),
    }
}

/// Forces, moments and what follows from a section carry capitals in the standards, strengths and
/// lengths do not: `f_v_rd` in N is a force, `f_u` in MPa a strength.
fn is_capital(letters: &str, subscripts: &[&str], unit: Option<&str>) -> bool {
    let single = letters.len() == 1;
    match unit {
        Some("N" | "N m" | "N m²") => single,
        Some("N/mm") => letters == "f",
        Some("mm²") => letters == "a",
        Some("mm³") => matches!(letters, "w" | "s" | "z"),
        Some("mm⁴" | "mm⁶") => matches!(letters, "i" | "j"),
        Some("MPa") => matches!(letters, "e" | "g"),
        Some(_) => false,
        None => subscripts.iter().any(|s| matches!(*s, "rd" | "ed" | "rk")),
    }
}

/// Text in a hand: in markup nothing of it may be markup.
fn written(text: &str, hand: Hand) -> String {
    if hand == Hand::Page { escape(text) } else { text.to_owned() }
}

/// The letter of that name; where there is none to print, its name.
fn greek(name: &str, hand: Hand) -> Option<&'static str> {
    let found = GREEK.iter().find(|(spelt, _)| *spelt == name);
    found.map(|(spelt, letter)| if hand == Hand::Ascii { *spelt } else { *letter })
}

fn trailing_digits(text: &str) -> (&str, &str) {
    let letters = text.trim_end_matches(|c: char| c.is_ascii_digit());
    if letters.is_empty() { (text, "") } else { text.split_at(letters.len()) }
}

// The printed forms are the symbols of EN 1993-1-8:2005, 1.5 and 4.5.3.2.
#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn symbols_read_as_in_the_standard() {
        for (name, unit, expected) in [
            ("sigma_perp", "MPa", "<i>σ</i><sub>⊥</sub>"),
            ("tau_par", "MPa", "<i>τ</i><sub>∥</sub>"),
            ("gamma_m2", "", "<i>γ</i><sub>M2</sub>"),
            ("f_u", "MPa", "<i>f</i><sub>u</sub>"),
            ("beta_w", "", "<i>β</i><sub>w</sub>"),
            ("f_v_rd", "N", "<i>F</i><sub>v,Rd</sub>"),
            ("m_p", "N m", "<i>M</i><sub>p</sub>"),
            ("a_s", "mm²", "<i>A</i><sub>s</sub>"),
            ("a", "mm", "<i>a</i>"),
            ("e", "MPa", "<i>E</i>"),
            ("sum_f_x", "N", "Σ<i>F</i><sub>x</sub>"),
            ("delta_sigma_c", "MPa", "Δ<i>σ</i><sub>c</sub>"),
            ("delta_f_t", "N", "Δ<i>F</i><sub>t</sub>"),
            ("df_link", "N", "Δ<i>F</i><sub>link</sub>"),
            ("d_w", "mm", "<i>d</i><sub>w</sub>"),
            ("t2", "mm", "<i>t</i><sub>2</sub>"),
        ] {
            assert_eq!(symbol(name, Some(unit), Hand::Page), expected);
        }
        assert_eq!(symbol("f_v_rd", None, Hand::Page), "<i>F</i><sub>v,Rd</sub>");
    }

    #[test]
    fn a_terminal_has_no_subscripts() {
        for (name, text, ascii) in [
            ("sigma_perp", "σ_⊥", "sigma_perp"),
            ("gamma_m2", "γ_M2", "gamma_M2"),
            ("f_v_rd", "F_v,Rd", "F_v,Rd"),
            ("lever_arm", "lever_arm", "lever_arm"),
        ] {
            assert_eq!(symbol(name, None, Hand::Text), text);
            assert_eq!(symbol(name, None, Hand::Ascii), ascii);
        }
    }

    #[test]
    fn words_stay_words_and_markup_stays_text() {
        let page = |name| symbol(name, None, Hand::Page);
        assert_eq!(page("utilisation"), "utilisation");
        assert_eq!(page("lever_arm"), "lever arm");
        assert_eq!(page("<b>"), "<i>&lt;b&gt;</i>");
        assert_eq!(page(""), "");
    }
}
