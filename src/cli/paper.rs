//! Sheets for paper and the class board as commands. Owns which sheet is printed how; their layout is
//! the paper's.

use super::args::{Args, BoardArgs, SheetArgs, SheetAs};
use super::facts::method_of;
use super::files::{figures_of, shown};
use super::{Failure, Out, done};
use crate::dressing::Dressing;
use crate::journal::board::{Board, Found};
use crate::journal::keep::Keep;
use crate::journal::kept::Loaded;
use crate::method::Method;
use crate::paper::{self, Document, Sheet};
use crate::plan::Plan;
use crate::plan::wif::{wif_of_plan, write_wif};
use crate::quantity::Calls;
use crate::terminal::class_board::EVERY;
use crate::terminal::digits::Ink;
use crate::words::board_words;
use std::path::Path;
use std::process::ExitCode;

/// Ends and picks that a picture of the cloth shows.
const PICTURE: u32 = 60;
/// `sheet [PLAN | NAME]`.
///
/// # Errors
/// What is wrong with the plan or the dressing.
pub fn sheet(args: &Args, wanted: &SheetArgs, out: &mut Out) -> Result<ExitCode, Failure> {
    let method = method_of(args.method.as_deref())?;
    if wanted.everyone {
        return everyone(args, wanted, &method, out);
    }
    let (plan, loaded) = plan_or_dressing(args, wanted.of.as_deref())?;
    let slip = loaded.map(|loaded| paper::slip(loaded.keeper.dressing(), &method));
    if wanted.picture {
        let ends = plan.heddled_ends().min(PICTURE);
        let picture =
            Calls::new(1, ends).and_then(|calls| paper::svg::cloth_svg(&plan, calls, PICTURE));
        out.text(&picture.ok_or_else(no_cloth)?);
        return done();
    }
    if wanted.r#as == SheetAs::Wif {
        out.text(&write_wif(&wif_of_plan(&plan)));
        return done();
    }
    let document = match (wanted.slip, slip) {
        (true, Some(slip)) => slip,
        (true, None) => {
            return Err(Failure::usage(
                "A slip says where a dressing was stopped. Name a dressing, not a plan.".to_owned(),
            ));
        }
        (false, _) => paper::sheets(&parts(wanted)?, &plan, &method),
    };
    print(&document, wanted, out);
    done()
}

/// Keeps the slip of the dressing as text in the file, whole or not at all; the file's name as shown.
pub(super) fn keep_slip(
    file: &Path,
    dressing: &Dressing,
    method: &Method,
) -> Result<String, String> {
    let text = paper::as_text::text(&paper::slip(dressing, method));
    let part = file.with_extension("part");
    let kept = std::fs::write(&part, text).and_then(|()| std::fs::rename(&part, file));
    kept.map(|()| shown(file)).map_err(|error| {
        // half a slip is of no use; where it cannot go either, the error says enough
        let _ = std::fs::remove_file(&part);
        format!("{} cannot be written: {error}.", shown(file))
    })
}

/// The plan of a file, or of a dressing with the dressing itself.
pub(super) fn plan_or_dressing(
    args: &Args,
    of: Option<&str>,
) -> Result<(Plan, Option<Loaded>), Failure> {
    let from_file = of.map(Path::new).filter(|path| path.is_file());
    if let Some(file) = from_file.filter(|path| !is_dressing(path)) {
        return Ok((plan_in(file)?, None));
    }
    let (_, loaded) = super::look::looked_at(args, of)?;
    let plan = loaded.keeper.dressing().plan().clone();
    Ok((plan, Some(loaded)))
}

/// The sheets or the slip of every dressing in the folder, in the order of their files' names.
fn everyone(
    args: &Args,
    wanted: &SheetArgs,
    method: &Method,
    out: &mut Out,
) -> Result<ExitCode, Failure> {
    let parts = parts(wanted)?;
    let folder = super::dress::folder_of(args)?.folder;
    let mut board = Board::new(&folder);
    look(&mut board, &folder)?;
    let document = |found: &Found| {
        let document = if wanted.slip {
            paper::slip(&found.dressing, method)
        } else {
            paper::sheets(&parts, found.dressing.plan(), method)
        };
        let title = format!("{}, {}", found.name, document.title);
        Document { title, ..document }
    };
    let documents: Vec<Document> = board.found().map(document).collect();
    if documents.is_empty() {
        return Err(Failure::refused(board_words::NOBODY.to_owned()));
    }
    match wanted.r#as {
        SheetAs::Html => out.text(&paper::as_html::html_of_all(
            &documents,
            wanted.paper.into(),
        )),
        SheetAs::Text => {
            let texts: Vec<String> = documents.iter().map(paper::as_text::text).collect();
            out.text(&texts.join("\u{c}"));
        }
        SheetAs::Csv => out.text(&paper::as_csv::csv_of_all(&documents)),
        SheetAs::Wif => {
            return Err(Failure::usage(
                "A WIF file holds one draft. For everyone say --as text, html or csv, or name one dressing."
                    .to_owned(),
            ));
        }
    }
    done()
}

fn is_dressing(path: &Path) -> bool {
    path.extension()
        .is_some_and(|ending| ending == crate::journal::EXTENSION)
}

fn plan_in(file: &Path) -> Result<Plan, Failure> {
    let (figures, _) = figures_of(file, None)?;
    figures
        .plan()
        .ok_or_else(|| Failure::problems(file, &figures.problems))
}

pub(super) fn no_cloth() -> Failure {
    Failure::refused(crate::words::cloth_words::NO_PICKS.to_owned())
}

/// The parts that were named; all of them where none was.
fn parts(wanted: &SheetArgs) -> Result<Vec<Sheet>, Failure> {
    if wanted.part.is_empty() {
        return Ok(Sheet::ALL.to_vec());
    }
    let known = |name: &String| {
        Sheet::ALL
            .into_iter()
            .find(|sheet| sheet.name() == name)
            .ok_or_else(|| {
                let names: Vec<&str> = Sheet::ALL.iter().map(|sheet| sheet.name()).collect();
                Failure::usage(format!(
                    "There is no part {}: the parts are {}. Name one of those.",
                    crate::quantity::harmless(name),
                    names.join(", ")
                ))
            })
    };
    wanted.part.iter().map(known).collect()
}

fn print(document: &Document, wanted: &SheetArgs, out: &mut Out) {
    out.text(&match wanted.r#as {
        SheetAs::Text | SheetAs::Wif => paper::as_text::text(document),
        SheetAs::Html => paper::as_html::html(document, wanted.paper.into()),
        SheetAs::Csv => paper::as_csv::csv(document),
    });
}

/// `board [DIR]`: the class at a glance; looks again and again until it is left.
///
/// # Errors
/// The folder cannot be read.
pub fn board(args: &Args, wanted: &BoardArgs, out: &mut Out) -> Result<ExitCode, Failure> {
    let method = method_of(args.method.as_deref())?;
    let folder = match &wanted.folder {
        Some(folder) => folder.clone(),
        None => super::dress::folder_of(args)?.folder,
    };
    let mut board = Board::new(&folder);
    look(&mut board, &folder)?;
    if args.json {
        let rows = board.rows(crate::terminal::driver::on_the_wall());
        let lesson = board_words::lesson(board.wrong());
        out.json(&paper::board_value(&rows, &lesson, &method));
        return done();
    }
    if !wanted.once && super::screen::is_wanted(args) {
        let log =
            |found: &Found| paper::log(&found.entries, &found.dressing, &method).text(&method);
        super::screen::board(args, board, &method, &log).map_err(|error| {
            Failure::refused(format!(
                "The terminal could not be read or written any more: {error}."
            ))
        })?;
        return done();
    }
    in_lines(args, wanted, board, &folder, &method, out)
}

fn look(board: &mut Board, folder: &Path) -> Result<bool, Failure> {
    board.look().map_err(|error| {
        Failure::refused(format!(
            "The folder {} cannot be read: {error}. Name the folder that the class shares.",
            shown(folder)
        ))
    })
}

/// The rows as lines, again whenever they change; once where that was asked.
fn in_lines(
    args: &Args,
    wanted: &BoardArgs,
    mut board: Board,
    folder: &Path,
    method: &Method,
    out: &mut Out,
) -> Result<ExitCode, Failure> {
    let ink = if args.settings.settings.ascii {
        Ink::Reversed
    } else {
        Ink::Blocks
    };
    let mut before = Vec::new();
    loop {
        let rows = board.rows(crate::terminal::driver::on_the_wall());
        let lines = if args.settings.settings.line || rows.is_empty() {
            let lesson = board_words::lesson(board.wrong());
            let sheet = paper::board_sheet(&rows, &lesson, method);
            vec![paper::as_text::text(&sheet)]
        } else {
            crate::terminal::class_row::lines(&rows, method, 80, ink)
        };
        if lines != before {
            out.text(&lines.join("\n"));
            before = lines;
        }
        if wanted.once {
            return done();
        }
        std::thread::sleep(EVERY);
        look(&mut board, folder)?;
    }
}
