"""What an editor asks while a spec is being written, answered over the Language Server Protocol.

The answers are plain functions from a reading and a position to values (`specreg.editor.reading`, `notices`,
`hover`, `completion`, `navigation`, `fixes`); `server` and `protocol` carry them over the wire.
"""
