"""The full-screen tracker. Nothing outside this folder imports Textual."""
