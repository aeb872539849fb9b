_endsmeet() {
    local i cur prev opts cmd
    COMPREPLY=()
    if [[ "${BASH_VERSINFO[0]}" -ge 4 ]]; then
        cur="$2"
    else
        cur="${COMP_WORDS[COMP_CWORD]}"
    fi
    prev="$3"
    cmd=""
    opts=""

    for i in "${COMP_WORDS[@]:0:COMP_CWORD}"
    do
        case "${cmd},${i}" in
            ",$1")
                cmd="endsmeet"
                ;;
            endsmeet,board)
                cmd="endsmeet__subcmd__board"
                ;;
            endsmeet,cloth)
                cmd="endsmeet__subcmd__cloth"
                ;;
            endsmeet,doctor)
                cmd="endsmeet__subcmd__doctor"
                ;;
            endsmeet,help)
                cmd="endsmeet__subcmd__help"
                ;;
            endsmeet,log)
                cmd="endsmeet__subcmd__log"
                ;;
            endsmeet,loom)
                cmd="endsmeet__subcmd__loom"
                ;;
            endsmeet,method)
                cmd="endsmeet__subcmd__method"
                ;;
            endsmeet,new)
                cmd="endsmeet__subcmd__new"
                ;;
            endsmeet,plan)
                cmd="endsmeet__subcmd__plan"
                ;;
            endsmeet,practice)
                cmd="endsmeet__subcmd__practice"
                ;;
            endsmeet,resume)
                cmd="endsmeet__subcmd__resume"
                ;;
            endsmeet,sheet)
                cmd="endsmeet__subcmd__sheet"
                ;;
            endsmeet,sley)
                cmd="endsmeet__subcmd__sley"
                ;;
            endsmeet,status)
                cmd="endsmeet__subcmd__status"
                ;;
            endsmeet,trace)
                cmd="endsmeet__subcmd__trace"
                ;;
            endsmeet,yarn)
                cmd="endsmeet__subcmd__yarn"
                ;;
            endsmeet__subcmd__help,board)
                cmd="endsmeet__subcmd__help__subcmd__board"
                ;;
            endsmeet__subcmd__help,cloth)
                cmd="endsmeet__subcmd__help__subcmd__cloth"
                ;;
            endsmeet__subcmd__help,doctor)
                cmd="endsmeet__subcmd__help__subcmd__doctor"
                ;;
            endsmeet__subcmd__help,help)
                cmd="endsmeet__subcmd__help__subcmd__help"
                ;;
            endsmeet__subcmd__help,log)
                cmd="endsmeet__subcmd__help__subcmd__log"
                ;;
            endsmeet__subcmd__help,loom)
                cmd="endsmeet__subcmd__help__subcmd__loom"
                ;;
            endsmeet__subcmd__help,method)
                cmd="endsmeet__subcmd__help__subcmd__method"
                ;;
            endsmeet__subcmd__help,new)
                cmd="endsmeet__subcmd__help__subcmd__new"
                ;;
            endsmeet__subcmd__help,plan)
                cmd="endsmeet__subcmd__help__subcmd__plan"
                ;;
            endsmeet__subcmd__help,practice)
                cmd="endsmeet__subcmd__help__subcmd__practice"
                ;;
            endsmeet__subcmd__help,resume)
                cmd="endsmeet__subcmd__help__subcmd__resume"
                ;;
            endsmeet__subcmd__help,sheet)
                cmd="endsmeet__subcmd__help__subcmd__sheet"
                ;;
            endsmeet__subcmd__help,sley)
                cmd="endsmeet__subcmd__help__subcmd__sley"
                ;;
            endsmeet__subcmd__help,status)
                cmd="endsmeet__subcmd__help__subcmd__status"
                ;;
            endsmeet__subcmd__help,trace)
                cmd="endsmeet__subcmd__help__subcmd__trace"
                ;;
            endsmeet__subcmd__help,yarn)
                cmd="endsmeet__subcmd__help__subcmd__yarn"
                ;;
            *)
                ;;
        esac
    done

    case "${cmd}" in
        endsmeet)
            opts="-h -V --sessions --method --json --line --ascii --color --say --speed --voice --guard-ms --quiet-ms --hold-ms --lit-seconds --opens --one-button --pedal --size --flash --bell --keep-awake --help --version new resume practice plan loom sley yarn trace status log doctor sheet cloth board method help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 1 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --sessions)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --method)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --color)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --say)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --speed)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --voice)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --guard-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --quiet-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --hold-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --lit-seconds)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --opens)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --one-button)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --pedal)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --size)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --flash)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --bell)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --keep-awake)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        endsmeet__subcmd__board)
            opts="-h --once --sessions --method --json --line --ascii --color --say --speed --voice --guard-ms --quiet-ms --hold-ms --lit-seconds --opens --one-button --pedal --size --flash --bell --keep-awake --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --sessions)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --method)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --color)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --say)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --speed)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --voice)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --guard-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --quiet-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --hold-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --lit-seconds)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --opens)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --one-button)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --pedal)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --size)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --flash)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --bell)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --keep-awake)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        endsmeet__subcmd__cloth)
            opts="-h --picks --from --floats --back --draft --sessions --method --json --line --ascii --color --say --speed --voice --guard-ms --quiet-ms --hold-ms --lit-seconds --opens --one-button --pedal --size --flash --bell --keep-awake --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --picks)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --from)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --floats)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --sessions)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --method)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --color)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --say)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --speed)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --voice)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --guard-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --quiet-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --hold-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --lit-seconds)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --opens)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --one-button)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --pedal)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --size)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --flash)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --bell)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --keep-awake)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        endsmeet__subcmd__doctor)
            opts="-h --sessions --method --json --line --ascii --color --say --speed --voice --guard-ms --quiet-ms --hold-ms --lit-seconds --opens --one-button --pedal --size --flash --bell --keep-awake --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --sessions)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --method)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --color)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --say)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --speed)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --voice)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --guard-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --quiet-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --hold-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --lit-seconds)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --opens)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --one-button)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --pedal)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --size)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --flash)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --bell)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --keep-awake)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        endsmeet__subcmd__help)
            opts="new resume practice plan loom sley yarn trace status log doctor sheet cloth board method help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        endsmeet__subcmd__help__subcmd__board)
            opts=""
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 3 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        endsmeet__subcmd__help__subcmd__cloth)
            opts=""
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 3 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        endsmeet__subcmd__help__subcmd__doctor)
            opts=""
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 3 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        endsmeet__subcmd__help__subcmd__help)
            opts=""
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 3 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        endsmeet__subcmd__help__subcmd__log)
            opts=""
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 3 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        endsmeet__subcmd__help__subcmd__loom)
            opts=""
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 3 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        endsmeet__subcmd__help__subcmd__method)
            opts=""
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 3 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        endsmeet__subcmd__help__subcmd__new)
            opts=""
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 3 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        endsmeet__subcmd__help__subcmd__plan)
            opts=""
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 3 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        endsmeet__subcmd__help__subcmd__practice)
            opts=""
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 3 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        endsmeet__subcmd__help__subcmd__resume)
            opts=""
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 3 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        endsmeet__subcmd__help__subcmd__sheet)
            opts=""
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 3 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        endsmeet__subcmd__help__subcmd__sley)
            opts=""
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 3 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        endsmeet__subcmd__help__subcmd__status)
            opts=""
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 3 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        endsmeet__subcmd__help__subcmd__trace)
            opts=""
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 3 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        endsmeet__subcmd__help__subcmd__yarn)
            opts=""
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 3 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        endsmeet__subcmd__log)
            opts="-h --csv --html --paper --sessions --method --json --line --ascii --color --say --speed --voice --guard-ms --quiet-ms --hold-ms --lit-seconds --opens --one-button --pedal --size --flash --bell --keep-awake --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --paper)
                    COMPREPLY=($(compgen -W "a4 letter" -- "${cur}"))
                    return 0
                    ;;
                --sessions)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --method)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --color)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --say)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --speed)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --voice)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --guard-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --quiet-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --hold-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --lit-seconds)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --opens)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --one-button)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --pedal)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --size)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --flash)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --bell)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --keep-awake)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        endsmeet__subcmd__loom)
            opts="-h --from --sessions --method --json --line --ascii --color --say --speed --voice --guard-ms --quiet-ms --hold-ms --lit-seconds --opens --one-button --pedal --size --flash --bell --keep-awake --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --from)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --sessions)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --method)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --color)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --say)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --speed)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --voice)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --guard-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --quiet-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --hold-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --lit-seconds)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --opens)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --one-button)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --pedal)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --size)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --flash)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --bell)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --keep-awake)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        endsmeet__subcmd__method)
            opts="-h --sessions --method --json --line --ascii --color --say --speed --voice --guard-ms --quiet-ms --hold-ms --lit-seconds --opens --one-button --pedal --size --flash --bell --keep-awake --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --sessions)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --method)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --color)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --say)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --speed)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --voice)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --guard-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --quiet-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --hold-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --lit-seconds)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --opens)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --one-button)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --pedal)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --size)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --flash)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --bell)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --keep-awake)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        endsmeet__subcmd__new)
            opts="-h --for --loom --after --yarn --take-up --thread-one --sessions --method --json --line --ascii --color --say --speed --voice --guard-ms --quiet-ms --hold-ms --lit-seconds --opens --one-button --pedal --size --flash --bell --keep-awake --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --for)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --loom)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --after)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --yarn)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --take-up)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --thread-one)
                    COMPREPLY=($(compgen -W "right left" -- "${cur}"))
                    return 0
                    ;;
                --sessions)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --method)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --color)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --say)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --speed)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --voice)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --guard-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --quiet-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --hold-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --lit-seconds)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --opens)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --one-button)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --pedal)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --size)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --flash)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --bell)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --keep-awake)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        endsmeet__subcmd__plan)
            opts="-h --thread-one --sessions --method --json --line --ascii --color --say --speed --voice --guard-ms --quiet-ms --hold-ms --lit-seconds --opens --one-button --pedal --size --flash --bell --keep-awake --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --thread-one)
                    COMPREPLY=($(compgen -W "right left" -- "${cur}"))
                    return 0
                    ;;
                --sessions)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --method)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --color)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --say)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --speed)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --voice)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --guard-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --quiet-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --hold-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --lit-seconds)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --opens)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --one-button)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --pedal)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --size)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --flash)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --bell)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --keep-awake)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        endsmeet__subcmd__practice)
            opts="-h --sessions --method --json --line --ascii --color --say --speed --voice --guard-ms --quiet-ms --hold-ms --lit-seconds --opens --one-button --pedal --size --flash --bell --keep-awake --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --sessions)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --method)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --color)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --say)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --speed)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --voice)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --guard-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --quiet-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --hold-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --lit-seconds)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --opens)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --one-button)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --pedal)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --size)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --flash)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --bell)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --keep-awake)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        endsmeet__subcmd__resume)
            opts="-h --salvage --sessions --method --json --line --ascii --color --say --speed --voice --guard-ms --quiet-ms --hold-ms --lit-seconds --opens --one-button --pedal --size --flash --bell --keep-awake --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --sessions)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --method)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --color)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --say)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --speed)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --voice)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --guard-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --quiet-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --hold-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --lit-seconds)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --opens)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --one-button)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --pedal)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --size)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --flash)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --bell)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --keep-awake)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        endsmeet__subcmd__sheet)
            opts="-h --part --slip --everyone --picture --as --paper --sessions --method --json --line --ascii --color --say --speed --voice --guard-ms --quiet-ms --hold-ms --lit-seconds --opens --one-button --pedal --size --flash --bell --keep-awake --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --part)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --as)
                    COMPREPLY=($(compgen -W "text html csv wif" -- "${cur}"))
                    return 0
                    ;;
                --paper)
                    COMPREPLY=($(compgen -W "a4 letter" -- "${cur}"))
                    return 0
                    ;;
                --sessions)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --method)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --color)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --say)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --speed)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --voice)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --guard-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --quiet-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --hold-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --lit-seconds)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --opens)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --one-button)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --pedal)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --size)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --flash)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --bell)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --keep-awake)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        endsmeet__subcmd__sley)
            opts="-h --sett --reed --per-10cm --sessions --method --json --line --ascii --color --say --speed --voice --guard-ms --quiet-ms --hold-ms --lit-seconds --opens --one-button --pedal --size --flash --bell --keep-awake --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --sett)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --reed)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --sessions)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --method)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --color)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --say)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --speed)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --voice)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --guard-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --quiet-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --hold-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --lit-seconds)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --opens)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --one-button)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --pedal)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --size)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --flash)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --bell)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --keep-awake)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        endsmeet__subcmd__status)
            opts="-h --sessions --method --json --line --ascii --color --say --speed --voice --guard-ms --quiet-ms --hold-ms --lit-seconds --opens --one-button --pedal --size --flash --bell --keep-awake --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --sessions)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --method)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --color)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --say)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --speed)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --voice)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --guard-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --quiet-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --hold-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --lit-seconds)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --opens)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --one-button)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --pedal)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --size)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --flash)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --bell)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --keep-awake)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        endsmeet__subcmd__trace)
            opts="-h --batch --calls --ends-left --heddles-left --seen --double --hanging --empty --knot --together --read --sessions --method --json --line --ascii --color --say --speed --voice --guard-ms --quiet-ms --hold-ms --lit-seconds --opens --one-button --pedal --size --flash --bell --keep-awake --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --batch)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --calls)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --ends-left)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --heddles-left)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --seen)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --double)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --hanging)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --empty)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --knot)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --together)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --read)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --sessions)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --method)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --color)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --say)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --speed)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --voice)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --guard-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --quiet-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --hold-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --lit-seconds)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --opens)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --one-button)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --pedal)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --size)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --flash)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --bell)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --keep-awake)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        endsmeet__subcmd__yarn)
            opts="-h --sessions --method --json --line --ascii --color --say --speed --voice --guard-ms --quiet-ms --hold-ms --lit-seconds --opens --one-button --pedal --size --flash --bell --keep-awake --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --sessions)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --method)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --color)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --say)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --speed)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --voice)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --guard-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --quiet-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --hold-ms)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --lit-seconds)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --opens)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --one-button)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --pedal)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --size)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --flash)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --bell)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --keep-awake)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
    esac
}

if [[ "${BASH_VERSINFO[0]}" -eq 4 && "${BASH_VERSINFO[1]}" -ge 4 || "${BASH_VERSINFO[0]}" -gt 4 ]]; then
    complete -F _endsmeet -o nosort -o bashdefault -o default endsmeet
else
    complete -F _endsmeet -o bashdefault -o default endsmeet
fi
