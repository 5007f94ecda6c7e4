"""The proof of a thread path: seven rules, a module for each kind of reasoning.

1. Every bead is picked up once, before anything else goes through it, a tile by its hole a.
2. No pass goes straight back through the hole that it has just left.
3. Each pass starts near where the last one ended.
4. At the end every hole of every tile is filled once, but for those that stand open.
5. No hole takes more passes than thread and needle allow.
6. The beads hang together, in the plane, and stay together when any one is lifted out.
7. The counts are those of the stitch.
"""
