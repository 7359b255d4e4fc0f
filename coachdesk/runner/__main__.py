import sys

from coachdesk.runner.main import main

sys.exit(main())
