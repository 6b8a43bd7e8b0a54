#compdef pipstake
# Completion of pipstake's command line for zsh. What may come next, the program
# itself tells: a word a line, or that files or folders may.

_pipstake() {
    local line program=${${(Q)words[1]}/#\~\//$HOME/}
    local -a lines offered abouts
    lines=("${(@f)$("$program" __offer -- "${(@Q)words[2,CURRENT-1]}" "${(Q)PREFIX}" 2>/dev/null)}")
    case $lines[1] in
    :files) compset -P '--*='; _files; return ;;
    :folders) compset -P '--*='; _files -/; return ;;
    '') return 1 ;;
    esac
    offered=("${(@)lines%%$'\t'*}")
    local -i wide=${#${(O@)offered//?/x}[1]}
    for line in "${(@)lines}"; do
        abouts+=("${(r:wide:)line%%$'\t'*}  ${line#*$'\t'}")
    done
    compadd -U -l -d abouts -a offered
}

if [[ $funcstack[1] == _pipstake ]]; then
    _pipstake "$@"
else
    compdef _pipstake pipstake
fi
