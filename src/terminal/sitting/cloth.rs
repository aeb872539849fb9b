//! The cloth over the work: when it is opened, and its screen. Owns that; what is shown of it, and where
//! its keys lead, is the cloth view's.

use super::{Over, Sitting};
use crate::dressing::state::open_look;
use crate::terminal::cloth_view::ClothView;
use crate::terminal::screens::{Band, Scene, Stack, header};
use crate::words::{cloth_words, lines};
use ratatui::layout::Rect;

impl Sitting<'_> {
    /// Opens the list of sheds; not where a look asks, or will ask next, for what it says.
    pub(super) fn open_sheds(&mut self) {
        match lines::why_no_sheds(self.keep.dressing()) {
            Some(why) => self.alarm(why.to_owned()),
            None => self.over = Over::Cloth(ClothView::sheds()),
        }
    }

    /// Opens the cloth where the hand is; not while a look is open, which may ask for what it shows.
    pub(super) fn open_cloth(&mut self) {
        if open_look(self.keep.dressing().mood()).is_some() {
            self.alarm(lines::AFTER_THE_LOOK.to_owned());
        } else if self.keep.dressing().plan().lifts_wanted().is_empty() {
            self.alarm(cloth_words::NO_PICKS.to_owned());
        } else {
            let hand = self.keep.dressing().hand_at();
            self.over = Over::Cloth(ClothView::at(hand));
        }
    }

    /// The cloth with what there is to say of it, or the draft.
    pub(super) fn cloth(&self, scene: &Scene, shown: ClothView, area: Rect) -> Stack {
        let (width, height) = (area.width, area.height);
        let dressing = self.keep.dressing();
        let mut stack = Stack::default();
        stack.push(header(scene).wish(width, self.manner, 0));
        let bands = shown.bands(dressing.plan(), dressing.hand_at(), (width, height));
        for (rank, band) in (0..).zip(bands.unwrap_or_default()) {
            stack.push(band.wish(width, self.manner, rank));
        }
        let footer = Band::Footer(scene.hints.to_vec());
        stack.push(footer.wish(width, self.manner, 0));
        stack
    }
}
