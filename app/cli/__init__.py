"""The command `ringside`: one file a command."""

from app.cli.main import command_line, main

__all__ = ["command_line", "main"]
