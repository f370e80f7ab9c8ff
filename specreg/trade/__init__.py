"""What each licensed person is to look at and to test on one van, and what comes back from them.

The package stands between the report and its outputs: it needs the answers of the rules with their limits
and sign-offs, and the facts of the van, and it words nothing. Text, CSV, JSON and pages are made from the
same `TradeSheet`; a filled sheet is read back here and written by the output.
"""
