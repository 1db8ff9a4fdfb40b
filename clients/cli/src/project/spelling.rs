//! The nearest known word to one that is not known.

/// The nearest of `known`, where one is near enough to be meant.
pub(crate) fn nearest<'k>(word: &str, known: impl Iterator<Item = &'k str>) -> Option<&'k str> {
    let allowed = (word.chars().count() / 3).max(1);
    known
        .map(|k| (distance(word, k), k))
        .filter(|(d, _)| *d <= allowed)
        .min_by_key(|(d, _)| *d)
        .map(|(_, k)| k)
}

/// How many letters have to be put in, left out or changed (Levenshtein, 1965).
fn distance(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, ca) in a.chars().enumerate() {
        let mut diagonal = row[0];
        row[0] = i + 1;
        for (j, cb) in b.iter().enumerate() {
            let changed = diagonal + usize::from(ca != *cb);
            diagonal = row[j + 1];
            row[j + 1] = changed.min(row[j] + 1).min(diagonal + 1);
        }
    }
    row[b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    // Levenshtein's own kind of example, widely printed: kitten to sitting takes 3.
    #[test]
    fn distances_count_letters() {
        assert_eq!(distance("kitten", "sitting"), 3);
        assert_eq!(distance("", "abc"), 3);
        assert_eq!(distance("same", "same"), 0);
    }

    #[test]
    fn only_a_near_word_is_offered() {
        let known = ["wheelbase", "wheel", "mass"];
        assert_eq!(nearest("wheelbas", known.into_iter()), Some("wheelbase"));
        assert_eq!(nearest("mas", known.into_iter()), Some("mass"));
        assert_eq!(nearest("colour", known.into_iter()), None);
    }
}
