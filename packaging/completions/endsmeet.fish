# Print an optspec for argparse to handle cmd's options that are independent of any subcommand.
function __fish_endsmeet_global_optspecs
    string join \n sessions= method= json line ascii color= say= speed= voice= guard-ms= quiet-ms= hold-ms= lit-seconds= opens= one-button= pedal= size= flash= bell= keep-awake= h/help V/version
end

function __fish_endsmeet_needs_command
    # Figure out if the current invocation already has a command.
    set -l cmd (commandline -opc)
    set -e cmd[1]
    argparse -s (__fish_endsmeet_global_optspecs) -- $cmd 2>/dev/null
    or return
    if set -q argv[1]
        # Also print the command, so this can be used to figure out what it is.
        echo $argv[1]
        return 1
    end
    return 0
end

function __fish_endsmeet_using_subcommand
    set -l cmd (__fish_endsmeet_needs_command)
    test -z "$cmd"
    and return 1
    contains -- $cmd[1] $argv
end

complete -c endsmeet -n "__fish_endsmeet_needs_command" -l sessions -d 'The folder of the dressings; else $ENDSMEET_SESSIONS, ./sessions or the user\'s data folder' -r -F
complete -c endsmeet -n "__fish_endsmeet_needs_command" -l method -d 'A house\'s own wording of the steps' -r -F
complete -c endsmeet -n "__fish_endsmeet_needs_command" -l color -d 'When to use colour: auto, always or never' -r
complete -c endsmeet -n "__fish_endsmeet_needs_command" -l say -d 'How much a voice says: all, calls or nothing' -r
complete -c endsmeet -n "__fish_endsmeet_needs_command" -l speed -d 'How fast the voice speaks, in words a minute (160)' -r
complete -c endsmeet -n "__fish_endsmeet_needs_command" -l voice -d 'The voice command; words go to its standard input, or behind -- where it ends in --' -r
complete -c endsmeet -n "__fish_endsmeet_needs_command" -l guard-ms -d 'For so many milliseconds after a press the same one is not taken again (700)' -r
complete -c endsmeet -n "__fish_endsmeet_needs_command" -l quiet-ms -d 'And until its key was quiet for so many (150)' -r
complete -c endsmeet -n "__fish_endsmeet_needs_command" -l hold-ms -d 'A press held for so many milliseconds opens the menu (1200)' -r
complete -c endsmeet -n "__fish_endsmeet_needs_command" -l lit-seconds -d 'Each item is lit for so many seconds (2)' -r
complete -c endsmeet -n "__fish_endsmeet_needs_command" -l opens -d 'What opens the menu: hold or triple' -r
complete -c endsmeet -n "__fish_endsmeet_needs_command" -l one-button -d 'Light the answers in turn, for a hand or foot with one button: true or false' -r
complete -c endsmeet -n "__fish_endsmeet_needs_command" -l pedal -d 'A key that means next beside the usual ones: what the pedal sends' -r
complete -c endsmeet -n "__fish_endsmeet_needs_command" -l size -d 'The smallest size of letters that you can read from the loom: 1, 2 or 3' -r
complete -c endsmeet -n "__fish_endsmeet_needs_command" -l flash -d 'What the top and bottom rows flash for: all, alarms or off' -r
complete -c endsmeet -n "__fish_endsmeet_needs_command" -l bell -d 'What the bell rings for: all, alarms or off' -r
complete -c endsmeet -n "__fish_endsmeet_needs_command" -l keep-awake -d 'What keeps the screen awake: off, auto or a command' -r
complete -c endsmeet -n "__fish_endsmeet_needs_command" -l json -d 'Print facts as JSON'
complete -c endsmeet -n "__fish_endsmeet_needs_command" -l line -d 'Plain lines: no full screen, no cursor movement'
complete -c endsmeet -n "__fish_endsmeet_needs_command" -l ascii -d 'No block elements: digits and letters of reversed spaces'
complete -c endsmeet -n "__fish_endsmeet_needs_command" -s h -l help -d 'Print help (see more with \'--help\')'
complete -c endsmeet -n "__fish_endsmeet_needs_command" -s V -l version -d 'Print version'
complete -c endsmeet -n "__fish_endsmeet_needs_command" -f -a "new" -d 'A new dressing from a plan'
complete -c endsmeet -n "__fish_endsmeet_needs_command" -f -a "resume" -d 'Go on with a dressing: the named one, else the last'
complete -c endsmeet -n "__fish_endsmeet_needs_command" -f -a "practice" -d 'A small warp on which things go wrong, to learn the program in a few minutes'
complete -c endsmeet -n "__fish_endsmeet_needs_command" -f -a "plan" -d 'Every figure of a plan'
complete -c endsmeet -n "__fish_endsmeet_needs_command" -f -a "loom" -d 'Keep the loom of a plan as a card, to be used for other plans'
complete -c endsmeet -n "__fish_endsmeet_needs_command" -f -a "sley" -d 'The sley order for a sett in a reed, and what other reeds would give'
complete -c endsmeet -n "__fish_endsmeet_needs_command" -f -a "yarn" -d 'A yarn in every numbering system'
complete -c endsmeet -n "__fish_endsmeet_needs_command" -f -a "trace" -d 'From a miscount to its place, without a screen'
complete -c endsmeet -n "__fish_endsmeet_needs_command" -f -a "status" -d 'Where a dressing stands'
complete -c endsmeet -n "__fish_endsmeet_needs_command" -f -a "log" -d 'What happened, entry by entry; the time of each stage and group; what was caught'
complete -c endsmeet -n "__fish_endsmeet_needs_command" -f -a "doctor" -d 'What terminal, voice, folder, clock, pedal and settings can do; pedal test, distance chart'
complete -c endsmeet -n "__fish_endsmeet_needs_command" -f -a "sheet" -d 'Sheets for paper: of a plan, or of a dressing and where it was stopped'
complete -c endsmeet -n "__fish_endsmeet_needs_command" -f -a "cloth" -d 'The first picks as they will look, of a plan or of a dressing'
complete -c endsmeet -n "__fish_endsmeet_needs_command" -f -a "board" -d 'A class at a glance: every dressing of a folder, who needs help first'
complete -c endsmeet -n "__fish_endsmeet_needs_command" -f -a "method" -d 'Check the built-in method, or a house\'s own wording of it'
complete -c endsmeet -n "__fish_endsmeet_needs_command" -f -a "help" -d 'Print this message or the help of the given subcommand(s)'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand new" -l for -d 'Whose dressing it is' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand new" -l loom -d 'The loom card to put it on: its name, or its file' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand new" -l after -d 'The next warp after this dressing: its plan as it stands, and its notes' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand new" -l yarn -d 'Another yarn for it, as on the cone; of one of several, "flax=10/2 linen"' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand new" -l take-up -d 'The take-up that was measured, as a share: 12%' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand new" -l thread-one -d 'The edge where thread 1 of a draft lies' -r -f -a "right\t'The right one'
left\t'The left one'"
complete -c endsmeet -n "__fish_endsmeet_using_subcommand new" -l sessions -d 'The folder of the dressings; else $ENDSMEET_SESSIONS, ./sessions or the user\'s data folder' -r -F
complete -c endsmeet -n "__fish_endsmeet_using_subcommand new" -l method -d 'A house\'s own wording of the steps' -r -F
complete -c endsmeet -n "__fish_endsmeet_using_subcommand new" -l color -d 'When to use colour: auto, always or never' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand new" -l say -d 'How much a voice says: all, calls or nothing' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand new" -l speed -d 'How fast the voice speaks, in words a minute (160)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand new" -l voice -d 'The voice command; words go to its standard input, or behind -- where it ends in --' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand new" -l guard-ms -d 'For so many milliseconds after a press the same one is not taken again (700)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand new" -l quiet-ms -d 'And until its key was quiet for so many (150)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand new" -l hold-ms -d 'A press held for so many milliseconds opens the menu (1200)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand new" -l lit-seconds -d 'Each item is lit for so many seconds (2)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand new" -l opens -d 'What opens the menu: hold or triple' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand new" -l one-button -d 'Light the answers in turn, for a hand or foot with one button: true or false' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand new" -l pedal -d 'A key that means next beside the usual ones: what the pedal sends' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand new" -l size -d 'The smallest size of letters that you can read from the loom: 1, 2 or 3' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand new" -l flash -d 'What the top and bottom rows flash for: all, alarms or off' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand new" -l bell -d 'What the bell rings for: all, alarms or off' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand new" -l keep-awake -d 'What keeps the screen awake: off, auto or a command' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand new" -l json -d 'Print facts as JSON'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand new" -l line -d 'Plain lines: no full screen, no cursor movement'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand new" -l ascii -d 'No block elements: digits and letters of reversed spaces'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand new" -s h -l help -d 'Print help (see more with \'--help\')'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand resume" -l sessions -d 'The folder of the dressings; else $ENDSMEET_SESSIONS, ./sessions or the user\'s data folder' -r -F
complete -c endsmeet -n "__fish_endsmeet_using_subcommand resume" -l method -d 'A house\'s own wording of the steps' -r -F
complete -c endsmeet -n "__fish_endsmeet_using_subcommand resume" -l color -d 'When to use colour: auto, always or never' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand resume" -l say -d 'How much a voice says: all, calls or nothing' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand resume" -l speed -d 'How fast the voice speaks, in words a minute (160)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand resume" -l voice -d 'The voice command; words go to its standard input, or behind -- where it ends in --' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand resume" -l guard-ms -d 'For so many milliseconds after a press the same one is not taken again (700)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand resume" -l quiet-ms -d 'And until its key was quiet for so many (150)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand resume" -l hold-ms -d 'A press held for so many milliseconds opens the menu (1200)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand resume" -l lit-seconds -d 'Each item is lit for so many seconds (2)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand resume" -l opens -d 'What opens the menu: hold or triple' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand resume" -l one-button -d 'Light the answers in turn, for a hand or foot with one button: true or false' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand resume" -l pedal -d 'A key that means next beside the usual ones: what the pedal sends' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand resume" -l size -d 'The smallest size of letters that you can read from the loom: 1, 2 or 3' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand resume" -l flash -d 'What the top and bottom rows flash for: all, alarms or off' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand resume" -l bell -d 'What the bell rings for: all, alarms or off' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand resume" -l keep-awake -d 'What keeps the screen awake: off, auto or a command' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand resume" -l salvage -d 'Save the clean part of a damaged one as a copy, and stop'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand resume" -l json -d 'Print facts as JSON'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand resume" -l line -d 'Plain lines: no full screen, no cursor movement'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand resume" -l ascii -d 'No block elements: digits and letters of reversed spaces'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand resume" -s h -l help -d 'Print help'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand practice" -l sessions -d 'The folder of the dressings; else $ENDSMEET_SESSIONS, ./sessions or the user\'s data folder' -r -F
complete -c endsmeet -n "__fish_endsmeet_using_subcommand practice" -l method -d 'A house\'s own wording of the steps' -r -F
complete -c endsmeet -n "__fish_endsmeet_using_subcommand practice" -l color -d 'When to use colour: auto, always or never' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand practice" -l say -d 'How much a voice says: all, calls or nothing' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand practice" -l speed -d 'How fast the voice speaks, in words a minute (160)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand practice" -l voice -d 'The voice command; words go to its standard input, or behind -- where it ends in --' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand practice" -l guard-ms -d 'For so many milliseconds after a press the same one is not taken again (700)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand practice" -l quiet-ms -d 'And until its key was quiet for so many (150)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand practice" -l hold-ms -d 'A press held for so many milliseconds opens the menu (1200)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand practice" -l lit-seconds -d 'Each item is lit for so many seconds (2)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand practice" -l opens -d 'What opens the menu: hold or triple' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand practice" -l one-button -d 'Light the answers in turn, for a hand or foot with one button: true or false' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand practice" -l pedal -d 'A key that means next beside the usual ones: what the pedal sends' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand practice" -l size -d 'The smallest size of letters that you can read from the loom: 1, 2 or 3' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand practice" -l flash -d 'What the top and bottom rows flash for: all, alarms or off' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand practice" -l bell -d 'What the bell rings for: all, alarms or off' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand practice" -l keep-awake -d 'What keeps the screen awake: off, auto or a command' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand practice" -l json -d 'Print facts as JSON'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand practice" -l line -d 'Plain lines: no full screen, no cursor movement'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand practice" -l ascii -d 'No block elements: digits and letters of reversed spaces'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand practice" -s h -l help -d 'Print help'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand plan" -l thread-one -d 'The edge where thread 1 of a draft lies' -r -f -a "right\t'The right one'
left\t'The left one'"
complete -c endsmeet -n "__fish_endsmeet_using_subcommand plan" -l sessions -d 'The folder of the dressings; else $ENDSMEET_SESSIONS, ./sessions or the user\'s data folder' -r -F
complete -c endsmeet -n "__fish_endsmeet_using_subcommand plan" -l method -d 'A house\'s own wording of the steps' -r -F
complete -c endsmeet -n "__fish_endsmeet_using_subcommand plan" -l color -d 'When to use colour: auto, always or never' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand plan" -l say -d 'How much a voice says: all, calls or nothing' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand plan" -l speed -d 'How fast the voice speaks, in words a minute (160)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand plan" -l voice -d 'The voice command; words go to its standard input, or behind -- where it ends in --' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand plan" -l guard-ms -d 'For so many milliseconds after a press the same one is not taken again (700)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand plan" -l quiet-ms -d 'And until its key was quiet for so many (150)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand plan" -l hold-ms -d 'A press held for so many milliseconds opens the menu (1200)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand plan" -l lit-seconds -d 'Each item is lit for so many seconds (2)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand plan" -l opens -d 'What opens the menu: hold or triple' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand plan" -l one-button -d 'Light the answers in turn, for a hand or foot with one button: true or false' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand plan" -l pedal -d 'A key that means next beside the usual ones: what the pedal sends' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand plan" -l size -d 'The smallest size of letters that you can read from the loom: 1, 2 or 3' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand plan" -l flash -d 'What the top and bottom rows flash for: all, alarms or off' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand plan" -l bell -d 'What the bell rings for: all, alarms or off' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand plan" -l keep-awake -d 'What keeps the screen awake: off, auto or a command' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand plan" -l json -d 'Print facts as JSON'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand plan" -l line -d 'Plain lines: no full screen, no cursor movement'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand plan" -l ascii -d 'No block elements: digits and letters of reversed spaces'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand plan" -s h -l help -d 'Print help (see more with \'--help\')'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand loom" -l from -d 'The plan that the loom stands in' -r -F
complete -c endsmeet -n "__fish_endsmeet_using_subcommand loom" -l sessions -d 'The folder of the dressings; else $ENDSMEET_SESSIONS, ./sessions or the user\'s data folder' -r -F
complete -c endsmeet -n "__fish_endsmeet_using_subcommand loom" -l method -d 'A house\'s own wording of the steps' -r -F
complete -c endsmeet -n "__fish_endsmeet_using_subcommand loom" -l color -d 'When to use colour: auto, always or never' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand loom" -l say -d 'How much a voice says: all, calls or nothing' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand loom" -l speed -d 'How fast the voice speaks, in words a minute (160)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand loom" -l voice -d 'The voice command; words go to its standard input, or behind -- where it ends in --' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand loom" -l guard-ms -d 'For so many milliseconds after a press the same one is not taken again (700)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand loom" -l quiet-ms -d 'And until its key was quiet for so many (150)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand loom" -l hold-ms -d 'A press held for so many milliseconds opens the menu (1200)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand loom" -l lit-seconds -d 'Each item is lit for so many seconds (2)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand loom" -l opens -d 'What opens the menu: hold or triple' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand loom" -l one-button -d 'Light the answers in turn, for a hand or foot with one button: true or false' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand loom" -l pedal -d 'A key that means next beside the usual ones: what the pedal sends' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand loom" -l size -d 'The smallest size of letters that you can read from the loom: 1, 2 or 3' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand loom" -l flash -d 'What the top and bottom rows flash for: all, alarms or off' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand loom" -l bell -d 'What the bell rings for: all, alarms or off' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand loom" -l keep-awake -d 'What keeps the screen awake: off, auto or a command' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand loom" -l json -d 'Print facts as JSON'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand loom" -l line -d 'Plain lines: no full screen, no cursor movement'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand loom" -l ascii -d 'No block elements: digits and letters of reversed spaces'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand loom" -s h -l help -d 'Print help'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sley" -l sett -d 'Ends per inch (per cm with --per-10cm: per 10 cm)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sley" -l reed -d 'Dents per inch (per 10 cm with --per-10cm)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sley" -l sessions -d 'The folder of the dressings; else $ENDSMEET_SESSIONS, ./sessions or the user\'s data folder' -r -F
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sley" -l method -d 'A house\'s own wording of the steps' -r -F
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sley" -l color -d 'When to use colour: auto, always or never' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sley" -l say -d 'How much a voice says: all, calls or nothing' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sley" -l speed -d 'How fast the voice speaks, in words a minute (160)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sley" -l voice -d 'The voice command; words go to its standard input, or behind -- where it ends in --' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sley" -l guard-ms -d 'For so many milliseconds after a press the same one is not taken again (700)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sley" -l quiet-ms -d 'And until its key was quiet for so many (150)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sley" -l hold-ms -d 'A press held for so many milliseconds opens the menu (1200)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sley" -l lit-seconds -d 'Each item is lit for so many seconds (2)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sley" -l opens -d 'What opens the menu: hold or triple' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sley" -l one-button -d 'Light the answers in turn, for a hand or foot with one button: true or false' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sley" -l pedal -d 'A key that means next beside the usual ones: what the pedal sends' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sley" -l size -d 'The smallest size of letters that you can read from the loom: 1, 2 or 3' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sley" -l flash -d 'What the top and bottom rows flash for: all, alarms or off' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sley" -l bell -d 'What the bell rings for: all, alarms or off' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sley" -l keep-awake -d 'What keeps the screen awake: off, auto or a command' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sley" -l per-10cm -d 'Both numbers are per 10 cm'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sley" -l json -d 'Print facts as JSON'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sley" -l line -d 'Plain lines: no full screen, no cursor movement'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sley" -l ascii -d 'No block elements: digits and letters of reversed spaces'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sley" -s h -l help -d 'Print help'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand yarn" -l sessions -d 'The folder of the dressings; else $ENDSMEET_SESSIONS, ./sessions or the user\'s data folder' -r -F
complete -c endsmeet -n "__fish_endsmeet_using_subcommand yarn" -l method -d 'A house\'s own wording of the steps' -r -F
complete -c endsmeet -n "__fish_endsmeet_using_subcommand yarn" -l color -d 'When to use colour: auto, always or never' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand yarn" -l say -d 'How much a voice says: all, calls or nothing' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand yarn" -l speed -d 'How fast the voice speaks, in words a minute (160)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand yarn" -l voice -d 'The voice command; words go to its standard input, or behind -- where it ends in --' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand yarn" -l guard-ms -d 'For so many milliseconds after a press the same one is not taken again (700)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand yarn" -l quiet-ms -d 'And until its key was quiet for so many (150)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand yarn" -l hold-ms -d 'A press held for so many milliseconds opens the menu (1200)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand yarn" -l lit-seconds -d 'Each item is lit for so many seconds (2)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand yarn" -l opens -d 'What opens the menu: hold or triple' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand yarn" -l one-button -d 'Light the answers in turn, for a hand or foot with one button: true or false' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand yarn" -l pedal -d 'A key that means next beside the usual ones: what the pedal sends' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand yarn" -l size -d 'The smallest size of letters that you can read from the loom: 1, 2 or 3' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand yarn" -l flash -d 'What the top and bottom rows flash for: all, alarms or off' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand yarn" -l bell -d 'What the bell rings for: all, alarms or off' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand yarn" -l keep-awake -d 'What keeps the screen awake: off, auto or a command' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand yarn" -l json -d 'Print facts as JSON'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand yarn" -l line -d 'Plain lines: no full screen, no cursor movement'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand yarn" -l ascii -d 'No block elements: digits and letters of reversed spaces'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand yarn" -s h -l help -d 'Print help'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand trace" -l batch -d 'The batch\'s number' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand trace" -l calls -d 'Calls made of it; all by default' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand trace" -l ends-left -d 'Counted-out ends left; negative: too few' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand trace" -l heddles-left -d 'Counted-out heddles left on each shaft, as 0,1,0,-1' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand trace" -l seen -d 'Which shaft holds the filled heddle of a call' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand trace" -l double -d 'The call whose heddle holds two ends, or none' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand trace" -l hanging -d 'The call after which an end hangs loose, or none' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand trace" -l empty -d 'The shaft with an empty heddle among the threaded, or none' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand trace" -l knot -d 'Ends that go through heddles in this knot' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand trace" -l together -d 'The call at which two neighbours rise together, or none' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand trace" -l read -d 'The shafts as they stand, from the first call of the batch' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand trace" -l sessions -d 'The folder of the dressings; else $ENDSMEET_SESSIONS, ./sessions or the user\'s data folder' -r -F
complete -c endsmeet -n "__fish_endsmeet_using_subcommand trace" -l method -d 'A house\'s own wording of the steps' -r -F
complete -c endsmeet -n "__fish_endsmeet_using_subcommand trace" -l color -d 'When to use colour: auto, always or never' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand trace" -l say -d 'How much a voice says: all, calls or nothing' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand trace" -l speed -d 'How fast the voice speaks, in words a minute (160)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand trace" -l voice -d 'The voice command; words go to its standard input, or behind -- where it ends in --' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand trace" -l guard-ms -d 'For so many milliseconds after a press the same one is not taken again (700)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand trace" -l quiet-ms -d 'And until its key was quiet for so many (150)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand trace" -l hold-ms -d 'A press held for so many milliseconds opens the menu (1200)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand trace" -l lit-seconds -d 'Each item is lit for so many seconds (2)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand trace" -l opens -d 'What opens the menu: hold or triple' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand trace" -l one-button -d 'Light the answers in turn, for a hand or foot with one button: true or false' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand trace" -l pedal -d 'A key that means next beside the usual ones: what the pedal sends' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand trace" -l size -d 'The smallest size of letters that you can read from the loom: 1, 2 or 3' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand trace" -l flash -d 'What the top and bottom rows flash for: all, alarms or off' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand trace" -l bell -d 'What the bell rings for: all, alarms or off' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand trace" -l keep-awake -d 'What keeps the screen awake: off, auto or a command' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand trace" -l json -d 'Print facts as JSON'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand trace" -l line -d 'Plain lines: no full screen, no cursor movement'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand trace" -l ascii -d 'No block elements: digits and letters of reversed spaces'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand trace" -s h -l help -d 'Print help'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand status" -l sessions -d 'The folder of the dressings; else $ENDSMEET_SESSIONS, ./sessions or the user\'s data folder' -r -F
complete -c endsmeet -n "__fish_endsmeet_using_subcommand status" -l method -d 'A house\'s own wording of the steps' -r -F
complete -c endsmeet -n "__fish_endsmeet_using_subcommand status" -l color -d 'When to use colour: auto, always or never' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand status" -l say -d 'How much a voice says: all, calls or nothing' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand status" -l speed -d 'How fast the voice speaks, in words a minute (160)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand status" -l voice -d 'The voice command; words go to its standard input, or behind -- where it ends in --' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand status" -l guard-ms -d 'For so many milliseconds after a press the same one is not taken again (700)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand status" -l quiet-ms -d 'And until its key was quiet for so many (150)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand status" -l hold-ms -d 'A press held for so many milliseconds opens the menu (1200)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand status" -l lit-seconds -d 'Each item is lit for so many seconds (2)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand status" -l opens -d 'What opens the menu: hold or triple' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand status" -l one-button -d 'Light the answers in turn, for a hand or foot with one button: true or false' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand status" -l pedal -d 'A key that means next beside the usual ones: what the pedal sends' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand status" -l size -d 'The smallest size of letters that you can read from the loom: 1, 2 or 3' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand status" -l flash -d 'What the top and bottom rows flash for: all, alarms or off' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand status" -l bell -d 'What the bell rings for: all, alarms or off' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand status" -l keep-awake -d 'What keeps the screen awake: off, auto or a command' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand status" -l json -d 'Print facts as JSON'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand status" -l line -d 'Plain lines: no full screen, no cursor movement'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand status" -l ascii -d 'No block elements: digits and letters of reversed spaces'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand status" -s h -l help -d 'Print help'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand log" -l paper -d 'The paper of a page for printing' -r -f -a "a4\t'210 by 297 mm'
letter\t'8 1/2 by 11 in'"
complete -c endsmeet -n "__fish_endsmeet_using_subcommand log" -l sessions -d 'The folder of the dressings; else $ENDSMEET_SESSIONS, ./sessions or the user\'s data folder' -r -F
complete -c endsmeet -n "__fish_endsmeet_using_subcommand log" -l method -d 'A house\'s own wording of the steps' -r -F
complete -c endsmeet -n "__fish_endsmeet_using_subcommand log" -l color -d 'When to use colour: auto, always or never' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand log" -l say -d 'How much a voice says: all, calls or nothing' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand log" -l speed -d 'How fast the voice speaks, in words a minute (160)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand log" -l voice -d 'The voice command; words go to its standard input, or behind -- where it ends in --' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand log" -l guard-ms -d 'For so many milliseconds after a press the same one is not taken again (700)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand log" -l quiet-ms -d 'And until its key was quiet for so many (150)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand log" -l hold-ms -d 'A press held for so many milliseconds opens the menu (1200)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand log" -l lit-seconds -d 'Each item is lit for so many seconds (2)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand log" -l opens -d 'What opens the menu: hold or triple' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand log" -l one-button -d 'Light the answers in turn, for a hand or foot with one button: true or false' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand log" -l pedal -d 'A key that means next beside the usual ones: what the pedal sends' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand log" -l size -d 'The smallest size of letters that you can read from the loom: 1, 2 or 3' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand log" -l flash -d 'What the top and bottom rows flash for: all, alarms or off' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand log" -l bell -d 'What the bell rings for: all, alarms or off' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand log" -l keep-awake -d 'What keeps the screen awake: off, auto or a command' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand log" -l csv -d 'The entries as comma-separated rows'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand log" -l html -d 'A page for printing'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand log" -l json -d 'Print facts as JSON'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand log" -l line -d 'Plain lines: no full screen, no cursor movement'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand log" -l ascii -d 'No block elements: digits and letters of reversed spaces'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand log" -s h -l help -d 'Print help (see more with \'--help\')'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand doctor" -l sessions -d 'The folder of the dressings; else $ENDSMEET_SESSIONS, ./sessions or the user\'s data folder' -r -F
complete -c endsmeet -n "__fish_endsmeet_using_subcommand doctor" -l method -d 'A house\'s own wording of the steps' -r -F
complete -c endsmeet -n "__fish_endsmeet_using_subcommand doctor" -l color -d 'When to use colour: auto, always or never' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand doctor" -l say -d 'How much a voice says: all, calls or nothing' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand doctor" -l speed -d 'How fast the voice speaks, in words a minute (160)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand doctor" -l voice -d 'The voice command; words go to its standard input, or behind -- where it ends in --' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand doctor" -l guard-ms -d 'For so many milliseconds after a press the same one is not taken again (700)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand doctor" -l quiet-ms -d 'And until its key was quiet for so many (150)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand doctor" -l hold-ms -d 'A press held for so many milliseconds opens the menu (1200)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand doctor" -l lit-seconds -d 'Each item is lit for so many seconds (2)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand doctor" -l opens -d 'What opens the menu: hold or triple' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand doctor" -l one-button -d 'Light the answers in turn, for a hand or foot with one button: true or false' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand doctor" -l pedal -d 'A key that means next beside the usual ones: what the pedal sends' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand doctor" -l size -d 'The smallest size of letters that you can read from the loom: 1, 2 or 3' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand doctor" -l flash -d 'What the top and bottom rows flash for: all, alarms or off' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand doctor" -l bell -d 'What the bell rings for: all, alarms or off' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand doctor" -l keep-awake -d 'What keeps the screen awake: off, auto or a command' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand doctor" -l json -d 'Print facts as JSON'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand doctor" -l line -d 'Plain lines: no full screen, no cursor movement'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand doctor" -l ascii -d 'No block elements: digits and letters of reversed spaces'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand doctor" -s h -l help -d 'Print help'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sheet" -l part -d 'Only these parts: plan, threading, sley, tie-up, wall' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sheet" -l as -d 'Plain text, a page for printing, or a table' -r -f -a "text\t'Plain text, 80 columns'
html\t'One page with its own styles, for a browser to print'
csv\t'Comma-separated rows'
wif\t'The draft alone, as WIF 1.1 for other programs'"
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sheet" -l paper -d 'The paper of a page for printing' -r -f -a "a4\t'210 by 297 mm'
letter\t'8 1/2 by 11 in'"
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sheet" -l sessions -d 'The folder of the dressings; else $ENDSMEET_SESSIONS, ./sessions or the user\'s data folder' -r -F
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sheet" -l method -d 'A house\'s own wording of the steps' -r -F
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sheet" -l color -d 'When to use colour: auto, always or never' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sheet" -l say -d 'How much a voice says: all, calls or nothing' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sheet" -l speed -d 'How fast the voice speaks, in words a minute (160)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sheet" -l voice -d 'The voice command; words go to its standard input, or behind -- where it ends in --' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sheet" -l guard-ms -d 'For so many milliseconds after a press the same one is not taken again (700)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sheet" -l quiet-ms -d 'And until its key was quiet for so many (150)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sheet" -l hold-ms -d 'A press held for so many milliseconds opens the menu (1200)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sheet" -l lit-seconds -d 'Each item is lit for so many seconds (2)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sheet" -l opens -d 'What opens the menu: hold or triple' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sheet" -l one-button -d 'Light the answers in turn, for a hand or foot with one button: true or false' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sheet" -l pedal -d 'A key that means next beside the usual ones: what the pedal sends' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sheet" -l size -d 'The smallest size of letters that you can read from the loom: 1, 2 or 3' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sheet" -l flash -d 'What the top and bottom rows flash for: all, alarms or off' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sheet" -l bell -d 'What the bell rings for: all, alarms or off' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sheet" -l keep-awake -d 'What keeps the screen awake: off, auto or a command' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sheet" -l slip -d 'The slip "where I stopped" of a dressing'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sheet" -l everyone -d 'For every dressing in the folder, one after the other, each with its weaver\'s name'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sheet" -l picture -d 'The cloth as an SVG picture'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sheet" -l json -d 'Print facts as JSON'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sheet" -l line -d 'Plain lines: no full screen, no cursor movement'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sheet" -l ascii -d 'No block elements: digits and letters of reversed spaces'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand sheet" -s h -l help -d 'Print help (see more with \'--help\')'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand cloth" -l picks -d 'So many picks, the first at the bottom' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand cloth" -l from -d 'From this end on, counted in the order of threading' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand cloth" -l floats -d 'Mark floats over more threads than this' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand cloth" -l sessions -d 'The folder of the dressings; else $ENDSMEET_SESSIONS, ./sessions or the user\'s data folder' -r -F
complete -c endsmeet -n "__fish_endsmeet_using_subcommand cloth" -l method -d 'A house\'s own wording of the steps' -r -F
complete -c endsmeet -n "__fish_endsmeet_using_subcommand cloth" -l color -d 'When to use colour: auto, always or never' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand cloth" -l say -d 'How much a voice says: all, calls or nothing' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand cloth" -l speed -d 'How fast the voice speaks, in words a minute (160)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand cloth" -l voice -d 'The voice command; words go to its standard input, or behind -- where it ends in --' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand cloth" -l guard-ms -d 'For so many milliseconds after a press the same one is not taken again (700)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand cloth" -l quiet-ms -d 'And until its key was quiet for so many (150)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand cloth" -l hold-ms -d 'A press held for so many milliseconds opens the menu (1200)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand cloth" -l lit-seconds -d 'Each item is lit for so many seconds (2)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand cloth" -l opens -d 'What opens the menu: hold or triple' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand cloth" -l one-button -d 'Light the answers in turn, for a hand or foot with one button: true or false' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand cloth" -l pedal -d 'A key that means next beside the usual ones: what the pedal sends' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand cloth" -l size -d 'The smallest size of letters that you can read from the loom: 1, 2 or 3' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand cloth" -l flash -d 'What the top and bottom rows flash for: all, alarms or off' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand cloth" -l bell -d 'What the bell rings for: all, alarms or off' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand cloth" -l keep-awake -d 'What keeps the screen awake: off, auto or a command' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand cloth" -l back -d 'The other face'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand cloth" -l draft -d 'The draft: threading above, tie-up at the corner, treadling at the side'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand cloth" -l json -d 'Print facts as JSON'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand cloth" -l line -d 'Plain lines: no full screen, no cursor movement'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand cloth" -l ascii -d 'No block elements: digits and letters of reversed spaces'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand cloth" -s h -l help -d 'Print help'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand board" -l sessions -d 'The folder of the dressings; else $ENDSMEET_SESSIONS, ./sessions or the user\'s data folder' -r -F
complete -c endsmeet -n "__fish_endsmeet_using_subcommand board" -l method -d 'A house\'s own wording of the steps' -r -F
complete -c endsmeet -n "__fish_endsmeet_using_subcommand board" -l color -d 'When to use colour: auto, always or never' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand board" -l say -d 'How much a voice says: all, calls or nothing' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand board" -l speed -d 'How fast the voice speaks, in words a minute (160)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand board" -l voice -d 'The voice command; words go to its standard input, or behind -- where it ends in --' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand board" -l guard-ms -d 'For so many milliseconds after a press the same one is not taken again (700)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand board" -l quiet-ms -d 'And until its key was quiet for so many (150)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand board" -l hold-ms -d 'A press held for so many milliseconds opens the menu (1200)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand board" -l lit-seconds -d 'Each item is lit for so many seconds (2)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand board" -l opens -d 'What opens the menu: hold or triple' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand board" -l one-button -d 'Light the answers in turn, for a hand or foot with one button: true or false' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand board" -l pedal -d 'A key that means next beside the usual ones: what the pedal sends' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand board" -l size -d 'The smallest size of letters that you can read from the loom: 1, 2 or 3' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand board" -l flash -d 'What the top and bottom rows flash for: all, alarms or off' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand board" -l bell -d 'What the bell rings for: all, alarms or off' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand board" -l keep-awake -d 'What keeps the screen awake: off, auto or a command' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand board" -l once -d 'Look once and end'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand board" -l json -d 'Print facts as JSON'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand board" -l line -d 'Plain lines: no full screen, no cursor movement'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand board" -l ascii -d 'No block elements: digits and letters of reversed spaces'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand board" -s h -l help -d 'Print help'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand method" -l sessions -d 'The folder of the dressings; else $ENDSMEET_SESSIONS, ./sessions or the user\'s data folder' -r -F
complete -c endsmeet -n "__fish_endsmeet_using_subcommand method" -l method -d 'A house\'s own wording of the steps' -r -F
complete -c endsmeet -n "__fish_endsmeet_using_subcommand method" -l color -d 'When to use colour: auto, always or never' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand method" -l say -d 'How much a voice says: all, calls or nothing' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand method" -l speed -d 'How fast the voice speaks, in words a minute (160)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand method" -l voice -d 'The voice command; words go to its standard input, or behind -- where it ends in --' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand method" -l guard-ms -d 'For so many milliseconds after a press the same one is not taken again (700)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand method" -l quiet-ms -d 'And until its key was quiet for so many (150)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand method" -l hold-ms -d 'A press held for so many milliseconds opens the menu (1200)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand method" -l lit-seconds -d 'Each item is lit for so many seconds (2)' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand method" -l opens -d 'What opens the menu: hold or triple' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand method" -l one-button -d 'Light the answers in turn, for a hand or foot with one button: true or false' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand method" -l pedal -d 'A key that means next beside the usual ones: what the pedal sends' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand method" -l size -d 'The smallest size of letters that you can read from the loom: 1, 2 or 3' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand method" -l flash -d 'What the top and bottom rows flash for: all, alarms or off' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand method" -l bell -d 'What the bell rings for: all, alarms or off' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand method" -l keep-awake -d 'What keeps the screen awake: off, auto or a command' -r
complete -c endsmeet -n "__fish_endsmeet_using_subcommand method" -l json -d 'Print facts as JSON'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand method" -l line -d 'Plain lines: no full screen, no cursor movement'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand method" -l ascii -d 'No block elements: digits and letters of reversed spaces'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand method" -s h -l help -d 'Print help'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand help; and not __fish_seen_subcommand_from new resume practice plan loom sley yarn trace status log doctor sheet cloth board method help" -f -a "new" -d 'A new dressing from a plan'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand help; and not __fish_seen_subcommand_from new resume practice plan loom sley yarn trace status log doctor sheet cloth board method help" -f -a "resume" -d 'Go on with a dressing: the named one, else the last'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand help; and not __fish_seen_subcommand_from new resume practice plan loom sley yarn trace status log doctor sheet cloth board method help" -f -a "practice" -d 'A small warp on which things go wrong, to learn the program in a few minutes'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand help; and not __fish_seen_subcommand_from new resume practice plan loom sley yarn trace status log doctor sheet cloth board method help" -f -a "plan" -d 'Every figure of a plan'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand help; and not __fish_seen_subcommand_from new resume practice plan loom sley yarn trace status log doctor sheet cloth board method help" -f -a "loom" -d 'Keep the loom of a plan as a card, to be used for other plans'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand help; and not __fish_seen_subcommand_from new resume practice plan loom sley yarn trace status log doctor sheet cloth board method help" -f -a "sley" -d 'The sley order for a sett in a reed, and what other reeds would give'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand help; and not __fish_seen_subcommand_from new resume practice plan loom sley yarn trace status log doctor sheet cloth board method help" -f -a "yarn" -d 'A yarn in every numbering system'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand help; and not __fish_seen_subcommand_from new resume practice plan loom sley yarn trace status log doctor sheet cloth board method help" -f -a "trace" -d 'From a miscount to its place, without a screen'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand help; and not __fish_seen_subcommand_from new resume practice plan loom sley yarn trace status log doctor sheet cloth board method help" -f -a "status" -d 'Where a dressing stands'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand help; and not __fish_seen_subcommand_from new resume practice plan loom sley yarn trace status log doctor sheet cloth board method help" -f -a "log" -d 'What happened, entry by entry; the time of each stage and group; what was caught'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand help; and not __fish_seen_subcommand_from new resume practice plan loom sley yarn trace status log doctor sheet cloth board method help" -f -a "doctor" -d 'What terminal, voice, folder, clock, pedal and settings can do; pedal test, distance chart'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand help; and not __fish_seen_subcommand_from new resume practice plan loom sley yarn trace status log doctor sheet cloth board method help" -f -a "sheet" -d 'Sheets for paper: of a plan, or of a dressing and where it was stopped'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand help; and not __fish_seen_subcommand_from new resume practice plan loom sley yarn trace status log doctor sheet cloth board method help" -f -a "cloth" -d 'The first picks as they will look, of a plan or of a dressing'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand help; and not __fish_seen_subcommand_from new resume practice plan loom sley yarn trace status log doctor sheet cloth board method help" -f -a "board" -d 'A class at a glance: every dressing of a folder, who needs help first'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand help; and not __fish_seen_subcommand_from new resume practice plan loom sley yarn trace status log doctor sheet cloth board method help" -f -a "method" -d 'Check the built-in method, or a house\'s own wording of it'
complete -c endsmeet -n "__fish_endsmeet_using_subcommand help; and not __fish_seen_subcommand_from new resume practice plan loom sley yarn trace status log doctor sheet cloth board method help" -f -a "help" -d 'Print this message or the help of the given subcommand(s)'
