//! Words of a file that nobody knows: the known one nearest to it, and the word made harmless.

/// The known name that is near enough to be meant.
pub(super) fn nearest(name: &str, known: &[&str]) -> Option<String> {
    // A third of the letters may differ; a longer name than any known one is not measured.
    let room = (name.chars().count() / 3).clamp(1, 3);
    known
        .iter()
        .filter(|_| name.len() <= 64)
        .map(|known| (strsim::osa_distance(name, known), known))
        .filter(|(distance, _)| *distance <= room)
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, known)| (*known).to_owned())
}

/// A file's word as it may be shown: hidden characters made visible, and not longer than a line.
pub(super) fn harmless(word: &str) -> String {
    word.chars()
        .take(40)
        .map(|letter| {
            if super::rules::is_hidden(letter) {
                '\u{fffd}'
            } else {
                letter
            }
        })
        .collect()
}
