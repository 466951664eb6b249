"""`python -m planform.cli`: the command without its script."""

import sys

from planform.cli.command import main

sys.exit(main())
