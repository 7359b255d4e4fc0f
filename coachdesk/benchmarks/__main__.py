import sys

from coachdesk.benchmarks.main import main

sys.exit(main())
