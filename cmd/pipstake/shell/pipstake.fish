# Completion of pipstake's command line for fish. What may come next, the program
# itself tells: a word a line, or that files or folders may.

function __pipstake_offer
    set -l words (commandline -opc)
    set -l current (commandline -ct)
    set -l program (string replace -r '^~/' "$HOME/" -- $words[1])
    set -l before (string match -r -- '^--[^=]*=' "$current")
    set -l path (string replace -r -- '^--[^=]*=' '' "$current")
    for line in ($program __offer -- $words[2..-1] "$current" 2>/dev/null)
        switch "$line"
            case ':files*'
                string replace -r -- '^' "$before" (__fish_complete_path "$path")
            case ':folders*'
                string replace -r -- '^' "$before" (__fish_complete_directories "$path")
            case '*'
                echo $line
        end
    end
end

complete -c pipstake -f -a '(__pipstake_offer)'
