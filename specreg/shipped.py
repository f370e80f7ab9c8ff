"""Where the shipped rules and site sources lie: in a wheel inside the package, in a checkout beside it."""

from pathlib import Path

PACKAGE = Path(__file__).parent


def rules_folder() -> Path:
    """Return the folder of the shipped rule documents."""
    return _folder("rules")


def site_folder() -> Path:
    """Return the folder of the site's templates, styles, scripts and standard texts."""
    return _folder("site")


def _folder(name: str) -> Path:
    inside = PACKAGE / "data" / name
    return inside if inside.is_dir() else PACKAGE.parent / name
