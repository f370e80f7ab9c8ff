"""Results and facts as text, JSON, SARIF, JUnit XML, Markdown and CSV."""
