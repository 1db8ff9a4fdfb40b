//! Symbols and formulas: the text of the expression that ran, set as on paper.
//!
//! `sq(sigma_perp)` becomes σ⊥², `gamma_m2` γ_M2, `sqrt(x)` a root with its bar, `*` a raised dot.
//! Nothing is computed and nothing left out; what cannot be read as a formula is printed as it is,
//! with its symbols set.

use crate::svg::writer::escape;

mod formula;

pub(crate) use formula::formula;

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

/// A symbol as markup: `f_v_rd` as *F* with subscript v,Rd; a word such as `lever_arm` as words.
pub(crate) fn symbol(name: &str) -> String {
    let mut pieces = name.split('_').filter(|p| !p.is_empty());
    let Some(first) = pieces.next() else {
        return escape(name);
    };
    let rest: Vec<&str> = pieces.collect();
    let (letters, digits) = trailing_digits(first);
    let base = match greek(letters) {
        Some(letter) => letter.to_owned(),
        None if letters.chars().count() > 3 => return escape(&name.replace('_', " ")),
        None if is_action_or_resistance(&rest) => escape(&letters.to_uppercase()),
        None => escape(letters),
    };
    let mut below: Vec<String> = Vec::new();
    if !digits.is_empty() {
        below.push(digits.to_owned());
    }
    below.extend(rest.iter().map(|piece| subscript(piece, letters == "gamma")));
    if below.is_empty() {
        format!("<i>{base}</i>")
    } else {
        format!("<i>{base}</i><sub>{}</sub>", below.join(","))
    }
}

/// One piece of a subscript.
fn subscript(piece: &str, of_factor: bool) -> String {
    match piece {
        "perp" => "⊥".to_owned(),
        "par" => "∥".to_owned(),
        "rd" => "Rd".to_owned(),
        "ed" => "Ed".to_owned(),
        "rk" => "Rk".to_owned(),
        _ if of_factor && piece.starts_with('m') => escape(&piece.to_uppercase()),
        _ => greek(piece).map_or_else(|| escape(piece), str::to_owned),
    }
}

/// Forces and moments carry capitals in the standards: `f_v_rd` is a force, `f_u` a strength.
fn is_action_or_resistance(subscripts: &[&str]) -> bool {
    subscripts.iter().any(|s| matches!(*s, "rd" | "ed" | "rk"))
}

fn greek(name: &str) -> Option<&'static str> {
    GREEK.iter().find(|(spelt, _)| *spelt == name).map(|(_, letter)| *letter)
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
        assert_eq!(symbol("sigma_perp"), "<i>σ</i><sub>⊥</sub>");
        assert_eq!(symbol("tau_par"), "<i>τ</i><sub>∥</sub>");
        assert_eq!(symbol("gamma_m2"), "<i>γ</i><sub>M2</sub>");
        assert_eq!(symbol("f_u"), "<i>f</i><sub>u</sub>");
        assert_eq!(symbol("beta_w"), "<i>β</i><sub>w</sub>");
        assert_eq!(symbol("f_v_rd"), "<i>F</i><sub>v,Rd</sub>");
        assert_eq!(symbol("t2"), "<i>t</i><sub>2</sub>");
        assert_eq!(symbol("a"), "<i>a</i>");
    }

    #[test]
    fn words_stay_words_and_markup_stays_text() {
        assert_eq!(symbol("utilisation"), "utilisation");
        assert_eq!(symbol("lever_arm"), "lever arm");
        assert_eq!(symbol("<b>"), "<i>&lt;b&gt;</i>");
        assert_eq!(symbol(""), "");
    }
}
