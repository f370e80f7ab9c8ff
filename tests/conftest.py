"""Shared by all tests: their own small modules are importable."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
