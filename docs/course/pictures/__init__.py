"""Pictures of dough, crumb, vessels and hands: shapes (strokes), kitchen (things), hands (at work), scenes (by the page they are for)."""
