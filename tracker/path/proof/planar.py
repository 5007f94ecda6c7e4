"""Rule 6 where no stitch gives the places: whether the graph of the beads is planar at all.

A graph library looks for a plane drawing (the left-right test; Brandes, The Left-Right Planarity
Test, 2009). What it finds is an order of the lines round each bead, and that order is a certificate
that is checked here like any other: by its faces and Euler's formula.
"""

from __future__ import annotations


def plane_order(around: dict[int, list[int]]) -> dict[int, list[int]] | None:
    """An order of the lines round each bead that lies flat; None if the graph has none."""
    # Loaded for rows by hand alone: it takes longer than everything else that a start needs.
    import networkx as nx  # noqa: PLC0415

    graph = nx.Graph()
    graph.add_nodes_from(around)
    graph.add_edges_from((bead, other) for bead, others in around.items() for other in others)
    planar, drawing = nx.check_planarity(graph)
    if not planar:
        return None
    return {bead: list(drawing.neighbors_cw_order(bead)) if around[bead] else [] for bead in around}
