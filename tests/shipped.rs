//! The completions and man pages that are shipped are made from the command line's own words. To
//! make them anew: `ENDSMEET_SHIPPED=write cargo test --test shipped`; without it they are checked.
#![allow(clippy::unwrap_used, clippy::print_stderr)]

use clap::CommandFactory;
use clap_complete::Shell;
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

const FOLDER: &str = "packaging";

/// The file's path below `packaging`, and its text.
type Files = BTreeMap<PathBuf, String>;

fn read(folder: &Path, below: &Path, into: &mut Files) {
    for item in fs::read_dir(folder).into_iter().flatten() {
        let path = item.unwrap().path();
        let name = below.join(path.file_name().unwrap());
        into.insert(name, fs::read_to_string(&path).unwrap());
    }
}

/// What the program's own words make.
fn made() -> Files {
    let folder = tempfile::tempdir().unwrap();
    let mut command = endsmeet::cli::args::Args::command();
    for shell in [Shell::Bash, Shell::Zsh, Shell::Fish] {
        clap_complete::generate_to(shell, &mut command, "endsmeet", folder.path()).unwrap();
    }
    let mut files = Files::new();
    read(folder.path(), Path::new("completions"), &mut files);
    files.insert(PathBuf::from("man/endsmeet.1"), man_page());
    files
}

/// One page for all: the options of every command, then each command with its own.
fn man_page() -> String {
    // not built: each command then has its own options alone
    let command = endsmeet::cli::args::Args::command();
    let man = clap_mangen::Man::new(command.clone());
    let mut page = Vec::new();
    man.render_title(&mut page).unwrap();
    man.render_name_section(&mut page).unwrap();
    let mut page = String::from_utf8(page).unwrap();
    page += ".SH SYNOPSIS\n\\fBendsmeet\\fR [\\fIcommand\\fR] [\\fIoptions\\fR]\n.SH COMMANDS\n";
    let part = command.get_subcommands().map(command_part);
    page.extend(part);
    let mut rest = Vec::new();
    man.render_options_section(&mut rest).unwrap();
    man.render_extra_section(&mut rest).unwrap();
    // each part begins with the same two lines, which belong once at the top
    let rest = String::from_utf8(rest).unwrap();
    let rest = rest
        .lines()
        .filter(|line| !line.starts_with(".ie") && !line.starts_with(".el"));
    let rest: Vec<&str> = rest.collect();
    page + &rest.join("\n").replace(".SH EXTRA", ".SH NOTES") + "\n"
}

fn command_part(command: &clap::Command) -> String {
    let name = command.get_name();
    let places = command.get_positionals().map(|place| {
        let value = roff(&place.get_id().to_string().to_uppercase());
        match place.is_required_set() {
            true => format!(" \\fI{value}\\fR"),
            false => format!(" [\\fI{value}\\fR]"),
        }
    });
    let places: String = places.collect();
    let mut part = format!(".SS \"endsmeet {name}{places}\"\n");
    part += &format!("{}\n", roff(&command.get_about().unwrap().to_string()));
    for option in command.get_arguments() {
        let value = option.get_value_names().unwrap_or_default().join(" ");
        let shown = match option.get_long() {
            Some(long) if option.get_action().takes_values() => format!("--{long} {value}"),
            Some(long) => format!("--{long}"),
            None => option.get_id().to_string().to_uppercase(),
        };
        let help = option.get_help().unwrap().to_string();
        part += &format!(".TP\n\\fB{}\\fR\n{}\n", roff(&shown), roff(&help));
    }
    part
}

/// Text of a page: signs that would be read as commands are made harmless.
fn roff(text: &str) -> String {
    text.replace('\\', "\\\\")
        .replace('-', "\\-")
        .replace('\'', "\\(aq")
}

fn kept() -> Files {
    let mut files = Files::new();
    for name in ["completions", "man"] {
        read(&Path::new(FOLDER).join(name), Path::new(name), &mut files);
    }
    files
}

#[test]
fn what_is_shipped_says_what_the_program_takes() {
    let made = made();
    if std::env::var_os("ENDSMEET_SHIPPED").is_some_and(|v| v == "write") {
        for name in kept().keys() {
            fs::remove_file(Path::new(FOLDER).join(name)).unwrap();
        }
        for (name, text) in &made {
            let file = Path::new(FOLDER).join(name);
            fs::create_dir_all(file.parent().unwrap()).unwrap();
            fs::write(file, text).unwrap();
        }
    }
    let kept = kept();
    let names = |files: &Files| files.keys().cloned().collect::<Vec<_>>();
    let again = "make them anew with ENDSMEET_SHIPPED=write cargo test --test shipped";
    assert_eq!(names(&kept), names(&made), "{again}");
    for (name, text) in &made {
        assert!(
            &kept[name] == text,
            "{} is out of date: {again}",
            name.display()
        );
    }
}

#[test]
fn every_command_has_its_page_and_every_option_its_sentence() {
    let command = endsmeet::cli::args::Args::command();
    let page = &kept()[Path::new("man/endsmeet.1")];
    for part in command.get_subcommands() {
        let name = part.get_name();
        let begins = format!(".SS \"endsmeet {name}");
        assert!(page.contains(&begins), "{name} is not on the page");
        assert!(
            part.get_about().is_some(),
            "{name} does not say what it does"
        );
        for option in part.get_arguments() {
            assert!(
                option.get_help().is_some(),
                "{name}: {} says nothing",
                option.get_id()
            );
        }
    }
}

/// What bash offers behind these words, the last of them unfinished.
fn offered(words: &[&str]) -> String {
    let script = format!(
        "source packaging/completions/endsmeet.bash; COMP_WORDS=({}); COMP_CWORD={}; \
         _endsmeet endsmeet '{}' '{}'; echo \"${{COMPREPLY[@]}}\"",
        words.join(" "),
        words.len() - 1,
        words[words.len() - 1],
        words[words.len() - 2],
    );
    let output = Command::new("bash").args(["-c", &script]).output().unwrap();
    assert!(output.stderr.is_empty(), "{output:?}");
    String::from_utf8(output.stdout).unwrap()
}

#[test]
fn a_shell_completes_commands_and_options() {
    if Command::new("bash").arg("--version").output().is_err() {
        eprintln!("not run: no bash on this machine");
        return;
    }
    assert_eq!(offered(&["endsmeet", "res"]).trim(), "resume");
    assert_eq!(offered(&["endsmeet", "sheet", "--sl"]).trim(), "--slip");
    assert_eq!(
        offered(&["endsmeet", "sheet", "--as", ""]).trim(),
        "text html csv wif"
    );
}
