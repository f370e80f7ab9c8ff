"""The room inside as geometry: solids by mode, the room around them, and the free floor between them."""
