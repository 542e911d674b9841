//! Tables for people: as aligned text, and as Markdown for notes and reports.

/// A table with a row of headings.
#[derive(Clone, Debug, Default)]
pub struct Table {
    /// Headings.
    pub head: Vec<&'static str>,
    /// Rows, as wide as the headings.
    pub rows: Vec<Vec<String>>,
}

impl Table {
    /// Columns aligned by blanks.
    #[must_use]
    pub fn text(&self) -> String {
        let head: Vec<String> = self.head.iter().map(|&h| h.to_owned()).collect();
        let all: Vec<&Vec<String>> = core::iter::once(&head).chain(&self.rows).collect();
        let width = |i: usize| {
            let cells = all.iter().filter_map(|r| r.get(i));
            cells.map(|c| c.chars().count()).max().unwrap_or(0)
        };
        let widths: Vec<usize> = (0..self.head.len()).map(width).collect();
        all.iter()
            .map(|row| {
                let cells = row.iter().zip(&widths).map(|(c, &w)| format!("{c:<w$}  "));
                let line: String = cells.collect();
                format!("{}\n", line.trim_end())
            })
            .collect()
    }

    /// Text of others that Markdown shows as it is.
    #[must_use]
    pub fn words(text: &str) -> String {
        escaped(text)
    }

    /// A table as Markdown has it.
    #[must_use]
    pub fn markdown(&self) -> String {
        let line = |cells: &mut dyn Iterator<Item = String>| {
            let cells: Vec<String> = cells.collect();
            format!("| {} |\n", cells.join(" | "))
        };
        let mut out = line(&mut self.head.iter().map(|&h| escaped(h)));
        out += &line(&mut self.head.iter().map(|_| "---".to_owned()));
        for row in &self.rows {
            out += &line(&mut row.iter().map(|c| escaped(c)));
        }
        out
    }
}

/// Text that Markdown shows as it is, in a table's cell.
fn escaped(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        if matches!(c, '|' | '\\' | '`' | '*' | '_' | '<' | '[' | ']' | '#') {
            out.push('\\');
        }
        out.push(if c.is_control() { ' ' } else { c });
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_is_aligned_and_markdown_escaped() {
        let table = Table {
            head: vec!["measure", "value"],
            rows: vec![
                vec!["dip".to_owned(), "4.00°".to_owned()],
                vec!["a|b".to_owned(), "x_1\n".to_owned()],
            ],
        };
        assert_eq!(
            table.text(),
            "measure  value\ndip      4.00°\na|b      x_1\n"
        );
        assert_eq!(
            table.markdown(),
            "| measure | value |\n| --- | --- |\n| dip | 4.00° |\n| a\\|b | x\\_1  |\n"
        );
    }
}
