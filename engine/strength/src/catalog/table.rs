//! The format of the table files.

/// A parsed table. Texts borrow from the file that is compiled in.
#[derive(Debug, Clone)]
pub(super) struct Table {
    /// Title of the table.
    pub(super) title: &'static str,
    /// Standards and editions the numbers stand in.
    pub(super) source: &'static str,
    /// How the numbers got here.
    pub(super) entered: &'static str,
    columns: Vec<&'static str>,
    rows: Vec<Vec<&'static str>>,
}

/// One row with its column names.
#[derive(Debug, Clone, Copy)]
pub(super) struct Row<'a> {
    columns: &'a [&'static str],
    cells: &'a [&'static str],
}

/// The invariant behind every `expect` on a cell.
const SOUND: &str = "the tables are compiled in, and a test reads every cell of each";

impl Table {
    /// Reads a table: `# key: value` lines, one line of column names, rows. A row must have a cell for every column.
    pub(super) fn parse(text: &'static str) -> Result<Self, String> {
        let header = |key: &str| {
            let start = format!("# {key}: ");
            let found = text.lines().find_map(|line| line.strip_prefix(start.as_str()));
            found.map(str::trim).filter(|v| !v.is_empty()).ok_or(format!("no `# {key}:` line"))
        };
        header("units")?;
        let mut lines = text.lines().filter(|l| !l.starts_with('#') && !l.trim().is_empty());
        let cells = |line: &'static str| line.split(',').map(str::trim).collect::<Vec<_>>();
        let columns = cells(lines.next().ok_or("no line of column names")?);
        let rows: Vec<Vec<&'static str>> = lines.map(cells).collect();
        if let Some(bad) = rows.iter().find(|r| r.len() != columns.len()) {
            return Err(format!(
                "row {bad:?} has {} cells for {} columns",
                bad.len(),
                columns.len()
            ));
        }
        if rows.is_empty() {
            return Err("no rows".to_owned());
        }
        Ok(Self {
            title: header("title")?,
            source: header("source")?,
            entered: header("entered")?,
            columns,
            rows,
        })
    }

    /// A table of this crate.
    pub(super) fn known(text: &'static str) -> Self {
        Self::parse(text).expect(SOUND)
    }

    /// The rows, top to bottom.
    pub(super) fn rows(&self) -> impl Iterator<Item = Row<'_>> {
        self.rows.iter().map(|cells| Row { columns: &self.columns, cells })
    }

    /// Source and how it was entered, for a reader of one entry.
    pub(super) fn citation(&self) -> String {
        format!("{}; {}", self.source, self.entered)
    }
}

impl Row<'_> {
    /// The text of a column.
    pub(super) fn text(&self, column: &str) -> &'static str {
        let position = self.columns.iter().position(|c| *c == column);
        self.cells[position.expect(SOUND)]
    }

    /// The number of a column.
    pub(super) fn number(&self, column: &str) -> f64 {
        self.maybe(column).expect(SOUND)
    }

    /// The number of a column, or nothing where the cell is empty.
    pub(super) fn maybe(&self, column: &str) -> Option<f64> {
        let text = self.text(column);
        (!text.is_empty()).then(|| text.parse().expect(SOUND))
    }

    /// The names in a column, separated by semicolons.
    pub(super) fn list(&self, column: &str) -> Vec<&'static str> {
        self.text(column).split(';').map(str::trim).filter(|s| !s.is_empty()).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::Table;

    const HEAD: &str = "# title: T\n# source: S\n# entered: by hand\n# units: mm\n";

    fn leaked(rest: &str) -> &'static str {
        Box::leak(format!("{HEAD}{rest}").into_boxed_str())
    }

    #[test]
    fn a_sound_table_is_read() {
        let table = Table::parse(leaked("a,b\n1, x \n\n2,\n")).unwrap();
        assert_eq!((table.title, table.source, table.entered), ("T", "S", "by hand"));
        let rows: Vec<_> = table.rows().collect();
        assert!((rows[0].number("a") - 1.0).abs() < 1e-15);
        assert_eq!(rows[0].text("b"), "x");
        assert_eq!(rows[1].maybe("b"), None);
    }

    #[test]
    fn a_broken_table_is_refused() {
        assert!(Table::parse(leaked("a,b\n1,2,3\n")).unwrap_err().contains("3 cells for 2"));
        assert_eq!(Table::parse(leaked("a,b\n")).unwrap_err(), "no rows");
        assert!(
            Table::parse("# title: T\n# source: S\n# units: mm\na\n1\n")
                .unwrap_err()
                .contains("entered")
        );
        assert!(Table::parse("a\n1\n").is_err());
    }
}
