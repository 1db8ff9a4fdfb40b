//! Lines of text of a given width, in Unicode or ASCII.

use anstyle::{Ansi256Color, AnsiColor, Style};
use fishplate_report::{Hand, Units};

/// Something exceeds its limit.
pub(crate) const EXCEEDS: Style = Ansi256Color(208).on_default().bold();
/// It holds.
pub(crate) const HOLDS: Style = Ansi256Color(73).on_default();
/// Not checked.
pub(crate) const NOT_CHECKED: Style = AnsiColor::BrightBlack.on_default();

/// Width from which the wide form is used.
const WIDE: usize = 120;
/// Width that the wide form is laid out for.
const WIDEST: usize = 160;
/// Width of the narrow form.
const NARROW: usize = 80;
/// Width below which the table of rows has no room for its names.
const NARROWEST: usize = 60;

/// How the terminal is written on.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Look {
    width: usize,
    ascii: bool,
    units: Units,
}

impl Look {
    /// For a terminal of `width` columns: the wide form from 120, laid out for at most 160; else
    /// 80, or from 60 where there are less. 0 is a width that is not known.
    pub(crate) fn new(width: usize, ascii: bool) -> Self {
        let width = match width {
            0 => NARROW,
            w if w < WIDE => w.clamp(NARROWEST, NARROW),
            w => w.min(WIDEST),
        };
        Self { width, ascii, units: Units::Si }
    }

    /// The same, printed in other units.
    pub(crate) fn in_units(self, units: Units) -> Self {
        Self { units, ..self }
    }

    pub(crate) fn units(self) -> Units {
        self.units
    }

    /// The letters of formulas.
    pub(crate) fn hand(self) -> Hand {
        if self.ascii { Hand::Ascii } else { Hand::Text }
    }

    pub(crate) fn width(self) -> usize {
        self.width
    }

    pub(crate) fn is_wide(self) -> bool {
        self.width >= WIDE
    }

    /// `text` without anything that could steer a terminal, in the letters it can show.
    pub(crate) fn text(self, text: &str) -> String {
        if self.ascii { to_ascii(&clean(text)) } else { clean(text) }
    }
}

/// Text under construction.
#[derive(Debug)]
pub(crate) struct Page {
    look: Look,
    out: String,
}

impl Page {
    pub(crate) fn new(look: Look) -> Self {
        Self { look, out: String::new() }
    }

    pub(crate) fn look(&self) -> Look {
        self.look
    }

    /// A line that is already laid out; blanks at its end are dropped.
    pub(crate) fn line(&mut self, line: &str) {
        self.out.push_str(line.trim_end());
        self.out.push('\n');
    }

    /// An empty line, unless one stands there already.
    pub(crate) fn blank(&mut self) {
        if !self.out.is_empty() && !self.out.ends_with("\n\n") {
            self.out.push('\n');
        }
    }

    /// `text` behind `lead`, wrapped at words; further lines stand `hang` to the right.
    pub(crate) fn wrapped(&mut self, lead: &str, hang: usize, text: &str) {
        let text = self.look.text(text);
        let mut line = lead.to_owned();
        let mut used = lead.chars().count();
        let mut fresh = true;
        for word in text.split(' ').filter(|w| !w.is_empty()) {
            let length = word.chars().count();
            if !fresh && used + 1 + length > self.look.width {
                self.line(&line);
                line = " ".repeat(hang);
                used = hang;
                fresh = true;
            }
            if !fresh {
                line.push(' ');
                used += 1;
            }
            line.push_str(word);
            used += length;
            fresh = false;
        }
        self.line(&line);
    }

    pub(crate) fn finish(self) -> String {
        self.out
    }
}

/// `text` in `style`.
pub(crate) fn paint(style: Style, text: &str) -> String {
    format!("{style}{text}{style:#}")
}

/// `text` in exactly `width` columns: filled with blanks, or shortened with a mark.
pub(crate) fn fit(look: Look, text: &str, width: usize) -> String {
    let text = look.text(text);
    let length = text.chars().count();
    if length <= width {
        return text + &" ".repeat(width - length);
    }
    let mark = look.text("…");
    let kept: String = text.chars().take(width.saturating_sub(mark.chars().count())).collect();
    let kept = kept.trim_end().to_owned() + &mark;
    let length = kept.chars().count();
    kept + &" ".repeat(width.saturating_sub(length))
}

/// `text` at the right end of `width` columns.
pub(crate) fn right(text: &str, width: usize) -> String {
    " ".repeat(width.saturating_sub(text.chars().count())) + text
}

/// `text` with every control character as a blank: a file must not steer the terminal.
pub(crate) fn clean(text: &str) -> String {
    text.chars()
        .map(|c| match c {
            // Bidirectional overrides reorder what a reader sees.
            '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => ' ',
            '\u{a0}' | '\u{202f}' | '\u{2009}' => ' ',
            c if c.is_control() => ' ',
            c => c,
        })
        .collect()
}

/// `text` in ASCII: signs by their usual spelling, other letters as a question mark.
pub(crate) fn to_ascii(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            c if c.is_ascii() => out.push(c),
            '━' => out.push('='),
            '╱' | '÷' => out.push('/'),
            '╌' => out.push('.'),
            '│' => out.push('|'),
            '×' => out.push('x'),
            '±' => out.push_str("+-"),
            '·' => out.push('*'),
            '−' | '–' | '—' => out.push('-'),
            '…' => out.push_str("..."),
            '≤' => out.push_str("<="),
            '≥' => out.push_str(">="),
            '√' => out.push_str("sqrt"),
            '²' => out.push('2'),
            '³' => out.push('3'),
            '⁴' => out.push('4'),
            '⁶' => out.push('6'),
            '°' => out.push_str(" deg"),
            '⊥' => out.push_str("perp"),
            '∥' => out.push_str("par"),
            'Σ' => out.push_str("sum "),
            'π' => out.push_str("pi"),
            '‘' | '’' => out.push('\''),
            '“' | '”' => out.push('"'),
            'γ' => out.push_str("gamma"),
            'σ' => out.push_str("sigma"),
            'τ' => out.push_str("tau"),
            'β' => out.push_str("beta"),
            'μ' | 'µ' => out.push_str("mu"),
            'λ' => out.push_str("lambda"),
            'χ' => out.push_str("chi"),
            'η' => out.push_str("eta"),
            'α' => out.push_str("alpha"),
            'ε' => out.push_str("epsilon"),
            'ä' => out.push_str("ae"),
            'ö' => out.push_str("oe"),
            'ü' => out.push_str("ue"),
            'ß' => out.push_str("ss"),
            'é' | 'è' | 'ê' => out.push('e'),
            _ => out.push('?'),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_cannot_steer_the_terminal() {
        assert_eq!(clean("a\u{1b}[31mb\r\nc\u{202e}d"), "a [31mb  c d");
    }

    #[test]
    fn ascii_spells_signs_out() {
        assert_eq!(to_ascii("28 × 4 mm ± 0.1 │ ━ ╱ ╌"), "28 x 4 mm +- 0.1 | = / .");
        assert!(to_ascii("日本 ≤ √ µ").is_ascii());
    }

    #[test]
    fn a_cell_keeps_its_width() {
        let look = Look::new(80, false);
        assert_eq!(fit(look, "rail web", 10), "rail web  ");
        assert_eq!(fit(look, "rail web 2.2 mm", 10), "rail web… ");
        assert_eq!(fit(Look::new(80, true), "rail web 2.2 mm", 10), "rail we...");
        for width in 1..20 {
            assert_eq!(fit(look, "rail web 2.2 mm", width).chars().count(), width);
        }
    }

    #[test]
    fn wrapped_text_stays_in_its_width() {
        let mut page = Page::new(Look::new(80, false));
        page.wrapped("Not checked: ", 2, &"twist of open sections, ".repeat(12));
        let text = page.finish();
        assert!(text.lines().all(|l| l.chars().count() <= 80), "{text}");
        assert!(text.lines().skip(1).all(|l| l.starts_with("  ")), "{text}");
    }
}
