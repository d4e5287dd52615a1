"""Pictures of dough, crumb, vessels and hands: shapes (strokes), kitchen (things), scenes (by the page they are for)."""
