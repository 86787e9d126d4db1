"""Lets `python -m logbook` do what `fineweight` does."""

import sys

from logbook.command import main

sys.exit(main())
