"""The register of a camper-van workshop: specs in, facts, findings and the owner's pages out."""

__version__ = "0.1.0"
