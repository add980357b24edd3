using System.CommandLine;

namespace ProbeRunner.Console.Commands;

/// <summary><c>completion</c>: a script for the shell that completes our command lines.</summary>
internal static class CompletionCommand
{
    /// <summary>The program itself answers what may follow: the library's <c>suggest</c> directive, given the cursor's position.</summary>
    private const string Bash =
        """
        # Put into ~/.bashrc:  source <(proberunner completion bash)
        _proberunner() {
            local line="${COMP_LINE#* }" point=$((COMP_POINT - ${#COMP_WORDS[0]} - 1))
            mapfile -t COMPREPLY < <(compgen -W "$(proberunner "[suggest:$point]" "$line" 2>/dev/null)" -- "${COMP_WORDS[COMP_CWORD]}")
        }
        complete -o default -F _proberunner proberunner
        """;

    private const string Zsh =
        """
        # Put into ~/.zshrc:  source <(proberunner completion zsh)
        _proberunner() {
            local line="${BUFFER#* }" point=$((CURSOR - ${#words[1]} - 1))
            compadd -- ${(f)"$(proberunner "[suggest:$point]" "$line" 2>/dev/null)"}
            _files
        }
        compdef _proberunner proberunner
        """;

    /// <summary>Makes the command.</summary>
    public static Command Create(ProgramContext context)
    {
        var shell = new Argument<string>("SHELL") { Description = "bash or zsh." };
        shell.AcceptOnlyFromAmong("bash", "zsh");
        var command = new Command("completion", "Print a script that makes a shell complete our command lines.") { shell };
        command.SetAction(parsed =>
        {
            context.Output.WriteLine(parsed.GetValue(shell) == "zsh" ? Zsh : Bash);
            return ExitCodes.Fit;
        });
        return command;
    }
}
