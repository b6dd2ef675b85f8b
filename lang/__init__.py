"""What an .oak file may say: its text, its syntax, its names and its dimensions. No geometry."""
