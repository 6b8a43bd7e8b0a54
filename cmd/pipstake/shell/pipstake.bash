# Completion of pipstake's command line for bash. What may come next, the
# program itself tells: a word a line, or that files or folders may.

_pipstake() {
    local program=${1/#\~\//$HOME/} word about last='' joined=''
    local -a words=()
    for word in "${COMP_WORDS[@]:1:COMP_CWORD}"; do
        # bash has cut --face=stake into three words.
        if [[ -n $last && ($word == = || -n $joined) ]]; then
            words[${#words[@]}-1]=$last$word
        else
            words+=("$word")
        fi
        [[ $word == = ]] && joined=yes || joined=''
        last=${words[${#words[@]}-1]}
    done
    COMPREPLY=()
    while IFS=$'\t' read -r word about; do
        case $word in
        :files | :folders)
            compopt -o filenames 2>/dev/null
            while IFS= read -r word; do
                COMPREPLY+=("$word")
            done < <(compgen "$([[ $word == :files ]] && echo -f || echo -d)" -- "$2")
            ;;
        *)
            [[ $last == --*=* ]] && word=${word#*=}
            [[ $last == [\"\']* || $word != *[^-[:alnum:].,=_]* ]] || printf -v word %q "$word"
            COMPREPLY+=("$word")
            ;;
        esac
    done < <("$program" __offer -- "${words[@]}" 2>/dev/null)
}

complete -F _pipstake pipstake
