//! One cell of a picture, eight bytes. Owns what a cell holds and how a style changes it; never knows
//! where it stands.
//!
//! A cell is one number: its symbol's bytes and its pen. So a row is wiped, copied and compared as
//! memory is, which is most of what a press costs; the library's own buffer has forty bytes a cell,
//! each with a text of its own.

use ratatui::style::{Color, Modifier, Style};

/// What one cell holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Dot(u64);

/// Colours and modifiers of a cell. A colour is none (the user's own) or one of the 256; true
/// colours count as none, since no theme has them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Pen(u32);

/// Bits of a colour: 0 for none, else its number and 1.
const COLOUR: u32 = 0x1ff;
/// Where the ground's colour begins.
const GROUND: u32 = 9;
/// Where the modifiers begin.
const MODIFIERS: u32 = 18;
/// What a style changes of a pen: the bits that stay, and those that are set.
#[derive(Debug, Clone, Copy)]
pub(super) struct Patch {
    keep: u32,
    set: u32,
}

impl Patch {
    pub(super) fn of(style: Style) -> Self {
        let (mut keep, mut set) = (u32::MAX, 0);
        if let Some(letters) = style.fg {
            keep &= !COLOUR;
            set |= number_of(letters);
        }
        if let Some(ground) = style.bg {
            keep &= !(COLOUR << GROUND);
            set |= number_of(ground) << GROUND;
        }
        set |= u32::from(style.add_modifier.bits()) << MODIFIERS;
        let off = u32::from(style.sub_modifier.bits()) << MODIFIERS;
        Self {
            keep: keep & !off,
            set: set & !off,
        }
    }
}

impl Pen {
    /// A pen without any colour or modifier, changed by a style.
    #[must_use]
    pub fn of(style: Style) -> Self {
        Self(Patch::of(style).set)
    }

    /// The letters' colour; `None` is the user's own.
    #[must_use]
    pub fn letters(self) -> Option<u8> {
        ((self.0 & COLOUR) as u16).checked_sub(1).map(|n| n as u8)
    }

    /// The ground's colour; `None` is the user's own.
    #[must_use]
    pub fn ground(self) -> Option<u8> {
        ((self.0 >> GROUND & COLOUR) as u16)
            .checked_sub(1)
            .map(|n| n as u8)
    }

    /// The modifiers.
    #[must_use]
    pub fn modifiers(self) -> Modifier {
        Modifier::from_bits_truncate((self.0 >> MODIFIERS) as u16)
    }

    /// This pen on the ground of another, without what would show in a blank cell.
    #[must_use]
    pub fn for_blank_of(self, other: Self) -> Self {
        let ground = COLOUR << GROUND;
        let shows = u32::from(shows_in_a_blank().bits()) << MODIFIERS;
        Self((self.0 & !ground | other.0 & ground) & !shows)
    }
}

/// Modifiers that can be seen where there is no letter.
const fn shows_in_a_blank() -> Modifier {
    Modifier::UNDERLINED
        .union(Modifier::REVERSED)
        .union(Modifier::CROSSED_OUT)
        .union(Modifier::SLOW_BLINK)
        .union(Modifier::RAPID_BLINK)
}

/// A colour in nine bits: 0 for none.
fn number_of(colour: Color) -> u32 {
    let index: u8 = match colour {
        Color::Reset | Color::Rgb(..) => return 0,
        Color::Indexed(index) => index,
        Color::Black => 0,
        Color::Red => 1,
        Color::Green => 2,
        Color::Yellow => 3,
        Color::Blue => 4,
        Color::Magenta => 5,
        Color::Cyan => 6,
        Color::Gray => 7,
        Color::DarkGray => 8,
        Color::LightRed => 9,
        Color::LightGreen => 10,
        Color::LightYellow => 11,
        Color::LightBlue => 12,
        Color::LightMagenta => 13,
        Color::LightCyan => 14,
        Color::White => 15,
    };
    u32::from(index) + 1
}

impl Dot {
    /// Nothing, on the user's own ground.
    pub const BLANK: Self = Self(b' ' as u64);
    /// Covered by the wide symbol before it.
    pub(super) const COVERED: Self = Self(0);

    fn new(symbol: u32, pen: Pen) -> Self {
        Self(u64::from(symbol) | u64::from(pen.0) << 32)
    }

    pub(super) fn symbol(self) -> u32 {
        self.0 as u32
    }

    /// This symbol in this cell's pen, changed by a style.
    pub(super) fn drawn_over(self, symbol: u32, patch: Patch) -> Self {
        Self::new(symbol, Pen(self.pen().0 & patch.keep | patch.set))
    }

    /// Its colours and modifiers.
    #[must_use]
    pub fn pen(self) -> Pen {
        Pen((self.0 >> 32) as u32)
    }

    /// Whether nothing but the ground shows.
    #[must_use]
    pub fn is_blank(self) -> bool {
        self.symbol() == u32::from(b' ') && !self.pen().modifiers().intersects(shows_in_a_blank())
    }

    /// Whether it is covered by a wide symbol before it.
    #[must_use]
    pub fn is_covered(self) -> bool {
        self == Self::COVERED
    }

    /// Whether two look the same: blanks do on the same ground, whatever their letters' colour.
    #[must_use]
    pub fn looks_as(self, other: Self) -> bool {
        let blanks = self.is_blank() && other.is_blank();
        self == other || blanks && self.pen().ground() == other.pen().ground()
    }

    /// Whether it is one byte in ASCII.
    #[must_use]
    pub fn is_ascii(self) -> bool {
        (1..0x80).contains(&self.symbol())
    }

    /// Whether every terminal takes it to be one column wide: ASCII, or line drawing and block
    /// elements (U+2500 to U+259F).
    #[must_use]
    pub fn is_surely_narrow(self) -> bool {
        matches!(self.symbol().to_le_bytes(), [0xe2, 0x94..=0x96, _, 0]) || self.is_ascii()
    }
}
