import sys

from coachdesk.bench.main import main

sys.exit(main())
