//! What is handed out: the Debian package goes in, works and comes out without a trace; the archive
//! holds all that the page about installing promises; and the program asks for no network.
#![allow(clippy::unwrap_used, clippy::print_stderr)]

use std::ffi::OsStr;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

const PROGRAM: &str = env!("CARGO_BIN_EXE_endsmeet");

fn run(program: impl AsRef<OsStr>, words: &[&str]) -> Output {
    let output = Command::new(program).args(words).output().unwrap();
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(
        output.status.success(),
        "{words:?}: {} {said}",
        output.status
    );
    output
}

/// Whether all these programs are there; says aloud what is missing.
fn there(programs: &[&str]) -> bool {
    let is_missing = |name: &&&str| Command::new(name).arg("--version").output().is_err();
    match programs.iter().find(is_missing) {
        Some(name) => {
            eprintln!("not run: no {name} on this machine");
            false
        }
        None => true,
    }
}

/// The binary that is packed: the one that this variable names, else the tests' own.
fn packed() -> String {
    std::env::var("ENDSMEET_PACKED").unwrap_or_else(|_| PROGRAM.to_owned())
}

/// What `packaging/make` makes.
fn made(what: &str, folder: &Path) -> PathBuf {
    let output = Command::new("packaging/make")
        .args([what, &packed(), folder.to_str().unwrap()])
        .env("ENDSMEET_SQUEEZE", "1")
        .output()
        .unwrap();
    assert!(output.status.success(), "{output:?}");
    let mut files = fs::read_dir(folder)
        .unwrap()
        .map(|item| item.unwrap().path());
    files.next().unwrap()
}

/// Every file below a folder, its path from there.
fn files(folder: &Path) -> Vec<String> {
    let mut found = Vec::new();
    let mut open = vec![folder.to_path_buf()];
    while let Some(next) = open.pop() {
        for item in fs::read_dir(next).unwrap() {
            let path = item.unwrap().path();
            match path.is_dir() {
                true => open.push(path),
                false => {
                    let name = path.strip_prefix(folder).unwrap();
                    found.push(name.to_string_lossy().into_owned());
                }
            }
        }
    }
    found.sort();
    found
}

fn dpkg(root: &Path, words: &[&str]) -> Output {
    let root = format!("--root={}", root.display());
    // no libraries are installed in the empty root: those of this machine are used
    let usual = [root.as_str(), "--force-not-root", "--force-depends"];
    run("dpkg", &[&usual[..], words].concat())
}

#[test]
fn the_debian_package_goes_in_works_and_comes_out() {
    if !there(&["dpkg", "dpkg-deb", "objdump"]) {
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let package = made("deb", folder.path());
    let root = tempfile::tempdir().unwrap();
    for name in ["info", "updates", "triggers"] {
        fs::create_dir_all(root.path().join("var/lib/dpkg").join(name)).unwrap();
    }
    fs::write(root.path().join("var/lib/dpkg/status"), "").unwrap();
    dpkg(root.path(), &["-i", package.to_str().unwrap()]);

    let program = root.path().join("usr/bin/endsmeet");
    let version = run(&program, &["--version"]).stdout;
    let expected = format!("endsmeet {}\n", env!("CARGO_PKG_VERSION"));
    assert_eq!(String::from_utf8(version).unwrap(), expected);
    let doc = root.path().join("usr/share/doc/endsmeet");
    let plan = doc.join("assets/demo/hall-runner.json");
    let sheet = run(&program, &["plan", plan.to_str().unwrap()]).stdout;
    assert!(String::from_utf8(sheet).unwrap().contains("277"));
    for file in [
        "usr/share/man/man1/endsmeet.1.gz",
        "usr/share/bash-completion/completions/endsmeet",
        "usr/share/zsh/vendor-completions/_endsmeet",
        "usr/share/fish/vendor_completions.d/endsmeet.fish",
        "usr/share/doc/endsmeet/copyright",
        "usr/share/doc/endsmeet/README.md",
        "usr/share/doc/endsmeet/INSTALL.md",
    ] {
        assert!(root.path().join(file).is_file(), "{file} is missing");
    }

    dpkg(root.path(), &["-P", "endsmeet"]);
    assert!(
        !root.path().join("usr").exists(),
        "{:?}",
        files(root.path())
    );
}

#[test]
fn the_archive_holds_the_binary_where_installers_look_for_it() {
    if !there(&["tar", "objdump"]) {
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let archive = made("archive", folder.path());
    let into = tempfile::tempdir().unwrap();
    let place = into.path().to_str().unwrap();
    run("tar", &["xzf", archive.to_str().unwrap(), "-C", place]);
    let name = archive.file_name().unwrap().to_string_lossy().into_owned();
    let inside = into.path().join(name.strip_suffix(".tar.gz").unwrap());
    run(inside.join("endsmeet"), &["--version"]);
    let held = files(&inside);
    for file in [
        "man/endsmeet.1",
        "completions/_endsmeet",
        "INSTALL.md",
        "LICENSE",
        "assets/demo/hall-runner.json",
    ] {
        assert!(held.iter().any(|name| name == file), "{file} in {held:?}");
    }
    // what Cargo.toml tells an installer is where the binary is
    let text = fs::read_to_string("Cargo.toml").unwrap();
    let told: toml::Table = text.parse().unwrap();
    let binstall = &told["package"]["metadata"]["binstall"];
    let (target, version) = (target_of(&name), env!("CARGO_PKG_VERSION"));
    let filled = |key: &str| {
        let text = binstall[key].as_str().unwrap();
        let pairs = [
            ("{ name }", "endsmeet"),
            ("{ version }", version),
            ("{ target }", target),
            ("{ bin }", "endsmeet"),
        ];
        let fill = |text: String, (from, to): &(&str, &str)| text.replace(from, to);
        pairs.iter().fold(text.to_owned(), fill)
    };
    assert!(filled("pkg-url").ends_with(&name), "{}", filled("pkg-url"));
    assert!(into.path().join(filled("bin-dir")).is_file());
}

fn target_of(archive: &str) -> &str {
    let begin = format!("endsmeet-{}-", env!("CARGO_PKG_VERSION"));
    let rest = archive.strip_prefix(&begin).unwrap();
    rest.strip_suffix(".tar.gz").unwrap()
}

#[test]
fn the_man_page_can_be_read() {
    if !there(&["groff"]) {
        return;
    }
    let words = ["-man", "-Tascii", "-ww", "packaging/man/endsmeet.1"];
    let output = run("groff", &words);
    assert_eq!(String::from_utf8_lossy(&output.stderr), "");
    let page = String::from_utf8_lossy(&output.stdout).into_owned();
    assert!(page.contains("endsmeet"), "{page}");
}

/// Calls for a network among the system calls of a command.
fn network_calls(program: &str, words: &[&str]) -> Vec<String> {
    let folder = tempfile::tempdir().unwrap();
    let trace = folder.path().join("trace");
    Command::new("strace")
        .args(["-f", "-e", "trace=%network", "-o"])
        .arg(&trace)
        .arg(program)
        .args(words)
        .env("ENDSMEET_SESSIONS", folder.path().join("sessions"))
        .stdin(std::process::Stdio::null())
        .output()
        .unwrap();
    let text = fs::read_to_string(trace).unwrap();
    assert!(text.contains("+++ exited"), "nothing was traced: {text}");
    let lines = text.lines().filter(|line| line.contains("AF_INET"));
    lines.map(str::to_owned).collect()
}

#[test]
fn no_command_opens_a_connection() {
    if !there(&["strace", "bash"]) {
        return;
    }
    let plan = "assets/demo/hall-runner.json";
    for words in [
        &["new", plan, "--line"][..],
        &["plan", plan],
        &["doctor"],
        &["practice", "--line"],
        &["sheet", plan, "--as", "html"],
        &["yarn", "8/2 cotton"],
    ] {
        assert_eq!(
            network_calls(PROGRAM, words),
            Vec::<String>::new(),
            "{words:?}"
        );
    }
    // and one that asks for a connection, to this machine alone, would be seen
    let asks = network_calls("bash", &["-c", "exec 3<>/dev/tcp/127.0.0.1/9"]);
    assert!(!asks.is_empty());
}

#[test]
fn no_library_of_the_program_speaks_over_a_network() {
    let lock = fs::read_to_string("Cargo.lock").unwrap();
    let names = lock.lines().filter_map(|line| line.strip_prefix("name = "));
    let names: Vec<&str> = names.map(|name| name.trim_matches('"')).collect();
    assert!(names.contains(&"ratatui"));
    for speaks in [
        "curl",
        "hyper",
        "native-tls",
        "openssl",
        "reqwest",
        "rustls",
        "socket2",
        "tokio",
        "ureq",
    ] {
        assert!(!names.contains(&speaks), "{speaks} is among the libraries");
    }
    for file in files(Path::new("src")) {
        let text = fs::read_to_string(Path::new("src").join(&file)).unwrap_or_default();
        assert!(!text.contains("std::net"), "{file} names std::net");
    }
}
