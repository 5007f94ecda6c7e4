"""What a beader sets once for every piece: keys, voice, tempo, rest."""
