"""`python -m yarnchat` is `yarnchat`."""

import sys

from yarnchat.cli import main

sys.exit(main())
