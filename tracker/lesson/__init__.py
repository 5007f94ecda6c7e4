"""The first lesson: the stitching screen is learnt by using it, on a small band of its own."""
