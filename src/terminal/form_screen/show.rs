//! The form's rows of the window: which band stands where. Owns the layout; makes no sentence.

use super::{AnswerLine, FieldList, FieldRow, FormScreen, Over};
use crate::plan::form::{FIELDS, Form};
use crate::terminal::cloth_view::ClothView;
use crate::terminal::screens::{Band, ChoiceList, Header, LEAST, Placed, Stack, Tone, wrapped};
use crate::words::{form_figures, form_words, screen_words};
use ratatui::layout::Rect;

/// From so many columns on the figures stand beside the list.
const WIDE: u16 = 110;
/// Columns of the list then.
const LIST: u16 = 72;
/// Rows of the question with its help.
const QUESTION: u16 = 3;
/// Rows of what was refused or done.
const NOTICE: u16 = 2;
/// Rows of the figures where they stand below.
const FIGURES: u16 = 4;

/// Cuts rows off an area from one end.
struct Rows(Rect);

impl Rows {
    fn top(&mut self, rows: u16) -> Rect {
        let rows = rows.min(self.0.height);
        let cut = Rect {
            height: rows,
            ..self.0
        };
        self.0.y += rows;
        self.0.height -= rows;
        cut
    }

    fn bottom(&mut self, rows: u16) -> Rect {
        let rows = rows.min(self.0.height);
        self.0.height -= rows;
        Rect {
            y: self.0.bottom(),
            height: rows,
            ..self.0
        }
    }
}

type Said = Vec<(Tone, String)>;

/// The lines as far as they have room; the last row says how many are left out.
fn fitted(lines: Said, area: Rect) -> Band {
    let long = |line: &(Tone, String)| wrapped(&line.1, usize::from(area.width)).len();
    let room = usize::from(area.height);
    let total: usize = lines.iter().map(long).sum();
    if total <= room {
        return Band::Lines(lines);
    }
    let mut used = 1;
    let fit = lines.iter().take_while(|line| {
        used += long(line);
        used <= room
    });
    let fit = fit.count();
    let mut kept: Said = lines[..fit].to_vec();
    kept.push((Tone::Know, form_words::more(lines.len() - fit)));
    Band::Lines(kept)
}

impl FormScreen<'_> {
    /// The bands of a window of this size.
    pub(super) fn shown(&self, area: Rect) -> Vec<Placed> {
        if area.width < LEAST.0 || area.height < LEAST.1 {
            let text = screen_words::too_small(LEAST, (area.width, area.height));
            let band = Band::Lines(vec![(Tone::Do, text)]);
            return vec![Placed { area, band }];
        }
        match &self.over {
            Over::Nothing => self.form_bands(area),
            Over::Help => {
                let lines = form_words::HELP
                    .iter()
                    .map(|line| (Tone::Do, (*line).to_owned()));
                page(
                    area,
                    form_words::HELP_HEADING,
                    lines.collect(),
                    &[("any key", "back to the form")],
                )
            }
            Over::Figures(first) => {
                let lines = self.figure_lines().split_off(*first);
                let keys = [
                    ("Up Down", "further"),
                    ("any other key", "back to the form"),
                ];
                page(area, form_words::FIGURES, lines, &keys)
            }
            Over::Cards(names, lit) => cards(area, names, *lit),
            Over::Cloth(shown) => self.cloth(area, *shown),
        }
    }

    /// The cloth or the draft between the heading and its keys.
    fn cloth(&self, area: Rect, shown: ClothView) -> Vec<Placed> {
        let mut stack = Stack::default();
        let manner = self.manner;
        stack.push(Band::Header(self.header()).wish(area.width, manner, 0));
        let plan = self.figures.plan();
        let bands = plan.and_then(|plan| shown.bands(&plan, None, (area.width, area.height)));
        for (rank, band) in (0..).zip(bands.unwrap_or_default()) {
            stack.push(band.wish(area.width, manner, rank));
        }
        stack.push(Band::Footer(shown.hints()).wish(area.width, manner, 0));
        stack.place(area)
    }

    fn form_bands(&self, area: Rect) -> Vec<Placed> {
        let mut rows = Rows(area);
        let mut placed = Vec::new();
        let mut put = |area: Rect, band: Band| placed.push(Placed { area, band });
        put(rows.top(1), Band::Header(self.header()));
        let hints = form_words::hints(form_words::is_ready(&self.figures));
        for row in hints.into_iter().rev() {
            put(rows.bottom(1), Band::Footer(row));
        }
        let figures = if area.width < WIDE {
            rows.bottom(FIGURES)
        } else {
            let mut left = rows.0;
            left.width = LIST;
            let right = Rect {
                x: rows.0.x + LIST + 2,
                width: rows.0.width - LIST - 2,
                y: rows.0.y + 1,
                height: rows.0.height - 1,
            };
            rows.0 = left;
            right
        };
        let lines = if area.width < WIDE {
            self.live_lines()
        } else {
            self.figure_lines()
        };
        put(figures, fitted(lines, figures));
        let notice = rows.bottom(NOTICE);
        put(notice, fitted(self.notice_lines(), notice));
        let answer = rows.bottom(1);
        put(answer, Band::Answer(self.answer_line(answer.width)));
        put(rows.bottom(QUESTION), Band::Lines(self.question()));
        put(rows.bottom(1), Band::Blank);
        put(rows.0, Band::Fields(self.list()));
        placed
    }

    fn header(&self) -> Header {
        let title = self.form.answer("title");
        Header {
            left: title.map_or_else(
                || form_words::HEADING.to_owned(),
                |title| format!("{}: {title}", form_words::HEADING),
            ),
            right: form_words::place(self.form),
        }
    }

    fn list(&self) -> FieldList {
        let row = |field| {
            let (mark, value) = form_words::standing(self.form, &self.figures, field);
            FieldRow {
                mark,
                asks: field.asks,
                value,
            }
        };
        FieldList {
            rows: FIELDS.iter().map(row).collect(),
            at: self.form.place().0 - 1,
        }
    }

    fn question(&self) -> Said {
        let field = self.form.field();
        let mut lines = vec![
            (Tone::Do, form_words::asked(self.form, field)),
            (Tone::Know, field.help.to_owned()),
        ];
        let moot = self.form.moot(field.key).map(form_words::moot);
        lines.extend(moot.map(|why| (Tone::Know, format!("({why})"))));
        lines
    }

    fn answer_line(&self, width: u16) -> AnswerLine {
        let field = self.form.field();
        let usual = Form::usual(&self.figures, field.key);
        AnswerLine {
            window: self
                .typed
                .window(usize::from(width).saturating_sub(AnswerLine::PROMPT)),
            hint: form_words::hint(self.form, usual.as_deref()),
        }
    }

    /// What was refused or done last; else how far the form is.
    fn notice_lines(&self) -> Said {
        let far = || {
            let says = form_words::how_far(self.form, &self.figures, form_words::DONE_ON_SCREEN);
            let tone = if form_words::is_ready(&self.figures) {
                Tone::Done
            } else {
                Tone::Do
            };
            (tone, says)
        };
        if self.away {
            let line = screen_words::NOT_LISTENING_LINE.to_owned();
            return vec![(Tone::Alarm, line)];
        }
        vec![self.notice.clone().unwrap_or_else(far)]
    }

    /// The figures in a few rows, what does not fit first.
    fn live_lines(&self) -> Said {
        let fits = form_figures::live(&self.figures);
        let mut lines: Said = fits.into_iter().map(in_tone).collect();
        lines.sort_by_key(|(tone, _)| *tone != Tone::Alarm);
        lines
    }

    /// Every figure, what does not fit first, what is worth knowing last.
    pub(super) fn figure_lines(&self) -> Said {
        let figures = &self.figures;
        let does_not = form_words::does_not_fit(&figures.problems);
        let all = does_not.into_iter().map(in_tone);
        let all = all.chain(form_figures::figures(figures).into_iter().map(in_tone));
        let knows = form_words::worth_knowing(&figures.remarks).into_iter();
        all.chain(knows.map(|line| (Tone::Know, line))).collect()
    }
}

fn in_tone(line: String) -> (Tone, String) {
    let tone = if form_words::says_no(&line) {
        Tone::Alarm
    } else {
        Tone::Do
    };
    (tone, line)
}

/// A page of lines over the form.
fn page(area: Rect, heading: &str, lines: Said, keys: &[(&str, &str)]) -> Vec<Placed> {
    let mut rows = Rows(area);
    let header = Header {
        left: heading.to_owned(),
        right: String::new(),
    };
    let (top, blank, footer) = (rows.top(1), rows.top(1), rows.bottom(1));
    let hints = form_words::page_hints(keys);
    [
        (top, Band::Header(header)),
        (blank, Band::Blank),
        (rows.0, Band::Lines(lines)),
        (footer, Band::Footer(hints)),
    ]
    .map(|(area, band)| Placed { area, band })
    .into()
}

/// The loom cards and the item behind them.
fn cards(area: Rect, names: &[String], lit: usize) -> Vec<Placed> {
    let mut rows = Rows(area);
    let header = Header {
        left: form_words::CARDS.to_owned(),
        right: String::new(),
    };
    let mut items = names.to_vec();
    items.push(form_words::KEEP_LOOM.to_owned());
    let says = if names.is_empty() {
        form_words::NO_CARDS
    } else {
        form_words::CARD_FILLS
    };
    let list = ChoiceList {
        items,
        lit: Some(lit),
    };
    let keys = [
        ("Up Down", "light another"),
        ("Enter", "take it"),
        ("Esc", "back"),
    ];
    let (top, says_at, footer) = (rows.top(1), rows.top(3), rows.bottom(1));
    [
        (top, Band::Header(header)),
        (says_at, Band::Lines(vec![(Tone::Know, says.to_owned())])),
        (rows.0, Band::Choices(list)),
        (footer, Band::Footer(form_words::page_hints(&keys))),
    ]
    .map(|(area, band)| Placed { area, band })
    .into()
}
