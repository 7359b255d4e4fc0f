"""Settings. Everything has an embedded default; the environment overrides it (COACHDESK_*)."""

from typing import Any

import environ
from celery.schedules import crontab
from csp.constants import NONE, SELF
from django.urls import reverse_lazy

from coachdesk.common.file_modes import restrict_new_files, umask
from coachdesk.common.paths import CHECKOUT, DATA, running_site, secret_key
from coachdesk.common.storage import storage_settings
from coachdesk.ops.logs import logging_settings

env = environ.Env()
restrict_new_files()
beside = running_site()

SECRET_KEY = secret_key()
DEBUG = env.bool("COACHDESK_DEBUG", False)
PUBLIC_URL = env("COACHDESK_URL", default=beside.get("url", "http://localhost:8000"))
ALLOWED_HOSTS = env.list("COACHDESK_HOSTS", default=["localhost", "127.0.0.1", "[::1]"])
CSRF_TRUSTED_ORIGINS = [PUBLIC_URL] if PUBLIC_URL.startswith("https://") else []
SECURE = PUBLIC_URL.startswith("https://")

INSTALLED_APPS = [
    "coachdesk.apps.CoachdeskConfig",
    "coachdesk.common.apps.CommonConfig",
    "reviews.apps.ReviewsConfig",
    "programming.apps.ProgrammingConfig",
    "athletes.apps.AthletesConfig",
    "django.contrib.admin",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "coachdesk.apps.ServedFilesConfig",
    "django.contrib.humanize",
    "django.forms",
    "allauth",
    "allauth.account",
    "allauth.mfa",
    "allauth.usersessions",
    "rest_framework",
    "drf_spectacular",
    "django_htmx",
    "csp",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "coachdesk.middleware.RequestLogMiddleware",
    "coachdesk.middleware.AnswerHeadersMiddleware",
    "coachdesk.middleware.KeptFormMiddleware",
    "csp.middleware.CSPMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "allauth.account.middleware.AccountMiddleware",
    "athletes.middleware.SessionSeenMiddleware",
    "athletes.middleware.LocalTimeMiddleware",
    "coachdesk.common.api.idempotency.IdempotencyMiddleware",
]

ROOT_URLCONF = "coachdesk.urls"
WSGI_APPLICATION = "coachdesk.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [CHECKOUT / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "coachdesk.context.navigation",
            ],
            "builtins": ["coachdesk.common.templatetags.core"],
        },
    }
]
FORM_RENDERER = "django.forms.renderers.TemplatesSetting"

# SQLite: WAL and IMMEDIATE, or concurrent writers fail with "database is locked".
DATABASES: dict[str, dict[str, Any]] = {
    "default": env.db("COACHDESK_DATABASE_URL", default=f"sqlite:///{DATA / 'coachdesk.sqlite3'}")
}
# A thread keeps its connection: to open one takes longer than most pages' queries.
DATABASES["default"]["CONN_MAX_AGE"] = 60
DATABASES["default"]["CONN_HEALTH_CHECKS"] = True
if DATABASES["default"]["ENGINE"].endswith("sqlite3"):
    DATABASES["default"]["OPTIONS"] = {
        "transaction_mode": "IMMEDIATE",
        "timeout": 20,
        "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; PRAGMA foreign_keys=ON;",
    }
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
# Rate limits live here: several web processes must share it, or each would count for itself.
CACHES: dict[str, dict[str, Any]] = {
    "default": env.cache("COACHDESK_CACHE_URL", default="locmemcache://")
}
if CACHES["default"]["BACKEND"].endswith("RedisCache"):
    CACHES["default"]["BACKEND"] = "coachdesk.optional_cache.OptionalRedisCache"
    CACHES["default"]["OPTIONS"] = {"socket_connect_timeout": 1, "socket_timeout": 1}

# People
AUTH_USER_MODEL = "athletes.User"
AUTHENTICATION_BACKENDS = ["allauth.account.auth_backends.AuthenticationBackend"]
AUTH_PASSWORD_VALIDATORS = [
    {
        "NAME": "django.contrib.auth.password_validation.MinimumLengthValidator",
        "OPTIONS": {"min_length": 10},
    },
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
    {"NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator"},
]
LOGIN_URL = reverse_lazy("account_login")
LOGIN_REDIRECT_URL = reverse_lazy("home")
ACCOUNT_ADAPTER = "athletes.adapter.ByInvitationAdapter"
ACCOUNT_USER_MODEL_USERNAME_FIELD = None
ACCOUNT_LOGIN_METHODS = {"email"}
ACCOUNT_SIGNUP_FIELDS = ["email*", "password1*", "password2*"]
ACCOUNT_EMAIL_VERIFICATION = "none"  # the invitation arrived by e-mail, which is the proof
ACCOUNT_PREVENT_ENUMERATION = True
ACCOUNT_REAUTHENTICATION_REQUIRED = True
ACCOUNT_CHANGE_EMAIL = True  # one address, replaced when the new one is confirmed
ACCOUNT_EMAIL_NOTIFICATIONS = True
ACCOUNT_EMAIL_UNKNOWN_ACCOUNTS = False  # nobody here is mailed unless they belong here
ACCOUNT_EMAIL_SUBJECT_PREFIX = ""
# Failed attempts are counted by device and by address (athletes/adapter.py), right ones not at all:
# a limit for all of an address would let one guesser lock a whole gym out.
ACCOUNT_RATE_LIMITS = {"login": None, "login_failed": "5/5m/key"}
ACCOUNT_FORMS = {"reset_password": "athletes.auth_forms.ForgottenPasswordForm"}
MFA_SUPPORTED_TYPES = ["totp", "webauthn", "recovery_codes"]
MFA_PASSKEY_LOGIN_ENABLED = True
MFA_ADAPTER = "athletes.adapter.SecondFactorAdapter"
MFA_FORMS = {"add_webauthn": "athletes.auth_forms.AddPasskeyForm"}
MFA_TOTP_ISSUER = "Coachdesk"
MFA_WEBAUTHN_ALLOW_INSECURE_ORIGIN = not SECURE  # passkeys on localhost are a secure context
USERSESSIONS_TRACK_ACTIVITY = True
INVITATION_DAYS = env.int("COACHDESK_INVITATION_DAYS", 14)

# Doors
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = SECURE
SESSION_COOKIE_HTTPONLY = CSRF_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = CSRF_COOKIE_SAMESITE = "Lax"
SECURE_HSTS_SECONDS = 31_536_000 if SECURE else 0
# Without a front that names the scheme every request looks plain, and would be sent round forever.
BEHIND_PROXY = env.bool("COACHDESK_BEHIND_PROXY", False)
SECURE_SSL_REDIRECT = env.bool("COACHDESK_SSL_REDIRECT", SECURE and BEHIND_PROXY)
SECURE_REDIRECT_EXEMPT = [r"^health/"]  # asked from inside, without a certificate
# Other sites of the same domain are not ours to bind to HTTPS.
SILENCED_SYSTEM_CHECKS = ["security.W005", "security.W021"]
SECURE_CONTENT_TYPE_NOSNIFF = True
SECURE_REFERRER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
if BEHIND_PROXY:
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")
    ALLAUTH_TRUSTED_PROXY_COUNT = 1  # or every rate limit would count the proxy as one person
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [NONE],
        "script-src": [SELF],
        "style-src": [SELF],
        "font-src": [SELF],
        "img-src": [SELF, "data:", "blob:"],
        "media-src": [SELF, "blob:"],
        "connect-src": [SELF],
        "manifest-src": [SELF],
        "form-action": [SELF],
        "base-uri": [NONE],
        "frame-ancestors": [NONE],
    }
}

# Files
STATIC_URL = "static/"
STATIC_ROOT = DATA / "static"
STATICFILES_DIRS: list[Any] = [
    CHECKOUT / "static",
    ("vendor/font", CHECKOUT / "node_modules/@fontsource/atkinson-hyperlegible-next/files"),
    ("vendor/tus", CHECKOUT / "node_modules/tus-js-client/dist"),
    ("vendor/uplot", CHECKOUT / "node_modules/uplot/dist"),
]
FILE_UPLOAD_PERMISSIONS = 0o666 & ~umask()  # or a storage would open each file to everybody
MEDIA_ROOT = DATA / "media"  # never served as a folder: every file goes through a view that asks
FRONT_SENDS_MEDIA = env.bool("COACHDESK_FRONT_SENDS_MEDIA", False)
STORAGES = {
    "default": storage_settings(env("COACHDESK_STORAGE_URL", default="")),
    "staticfiles": {
        "BACKEND": env(
            "COACHDESK_STATIC_STORAGE", default="coachdesk.staticfiles.HashedStaticStorage"
        )
    },
}

# Uploads and clips
UPLOAD_DIR = DATA / "uploads"
UPLOAD_MAX_BYTES = env.int("COACHDESK_UPLOAD_MAX_BYTES", 2 * 1024**3)
UPLOAD_EXPIRES_HOURS = env.int("COACHDESK_UPLOAD_EXPIRES_HOURS", 72)
CLIP_MAX_SECONDS = env.int("COACHDESK_CLIP_MAX_SECONDS", 180)
ATHLETE_QUOTA_BYTES = env.int("COACHDESK_ATHLETE_QUOTA_BYTES", 20 * 1024**3)
MEDIA_WORK_DIR = DATA / "work"
MEDIA_JOB_ATTEMPTS = 3
MEDIA_LEASE_SECONDS = env.int("COACHDESK_MEDIA_LEASE_SECONDS", 30)
CLAIM_MINUTES = env.int("COACHDESK_CLAIM_MINUTES", 30)
OVERDUE_DAYS = env.int("COACHDESK_OVERDUE_DAYS", 5)
REVIEW_MINUTES_PER_CLIP = env.int("COACHDESK_REVIEW_MINUTES_PER_CLIP", 5)  # until a coach has data
FOCUS_POINTS_SUGGESTED = env.int("COACHDESK_FOCUS_POINTS", 3)
# Webhooks reach public addresses only; a club whose programs are in its own network says so.
WEBHOOKS_MAY_STAY_INSIDE = env.bool("COACHDESK_WEBHOOKS_MAY_STAY_INSIDE", False)

# Background work: no result backend, the rows hold the outcome.
CELERY_BROKER_URL = env(
    "COACHDESK_BROKER_URL", default=beside.get("broker", "redis://127.0.0.1:6379/0")
)
CELERY_TASK_IGNORE_RESULT = True
CELERY_TASK_DEFAULT_QUEUE = "quick"
CELERY_TASK_ROUTES = {"reviews.intake.tasks.make_playable": {"queue": "media"}}
LIVENESS_FILE = env("COACHDESK_LIVENESS_FILE", default="")
CELERY_WORKER_PREFETCH_MULTIPLIER = 1
# A busy worker takes no message it cannot start: an idle one has it at once.
CELERY_WORKER_DISABLE_PREFETCH = True
CELERY_BROKER_CONNECTION_RETRY_ON_STARTUP = True
# A lost message is sent again by the sweeper, so a page never waits for a broker that is away;
# without max_retries one unanswered message costs six seconds.
CELERY_BROKER_TRANSPORT_OPTIONS = {
    "socket_connect_timeout": 2,
    "socket_timeout": 5,
    "max_retries": 0,
}
CELERY_TASK_PUBLISH_RETRY = False
CELERY_BEAT_SCHEDULE_FILENAME = str(DATA / "beat")
CELERY_BEAT_SCHEDULE = {
    "sweep media jobs": {"task": "reviews.intake.tasks.sweep_jobs", "schedule": 10.0},
    "sweep uploads": {"task": "reviews.intake.tasks.sweep_uploads", "schedule": 600.0},
    "summarize dirty days": {"task": "programming.logs.tasks.sweep_dirty_days", "schedule": 60.0},
    "prove load summaries": {
        "task": "programming.logs.tasks.reconcile_all",
        "schedule": crontab(hour=3, minute=20),
    },
    "sweep webhooks": {"task": "athletes.webhooks.tasks.sweep_deliveries", "schedule": 30.0},
    "delete old answers": {
        "task": "coachdesk.common.tasks.delete_old_idempotency_records",
        "schedule": crontab(hour=3, minute=50),
    },
    "delete old deliveries": {
        "task": "athletes.webhooks.tasks.delete_old_deliveries",
        "schedule": crontab(hour=3, minute=55),
    },
    "send mail": {"task": "athletes.mail.tasks.deliver_mail", "schedule": 10.0},
}

# Mail: into files of the data folder until a server is named.
EMAIL_CONFIG = env.email("COACHDESK_EMAIL_URL", default=f"filemail://{DATA / 'mail'}")
vars().update(EMAIL_CONFIG)
EMAIL_FILE_PATH = DATA / "mail"
EMAIL_TIMEOUT = 10  # seconds for each answer: or a server that says nothing holds a worker for ever
DEFAULT_FROM_EMAIL = env("COACHDESK_FROM", default="Coachdesk <coachdesk@localhost>")

LANGUAGE_CODE = "en-gb"
USE_I18N = True
USE_TZ = True
TIME_ZONE = "UTC"
FORMAT_MODULE_PATH = ["coachdesk.formats"]

REST_FRAMEWORK = {
    # The first one names the challenge of a 401.
    "DEFAULT_AUTHENTICATION_CLASSES": [
        "athletes.tokens.authentication.BearerAuthentication",
        "rest_framework.authentication.SessionAuthentication",
    ],
    "DEFAULT_PERMISSION_CLASSES": [
        "rest_framework.permissions.IsAuthenticated",
        "coachdesk.api.scopes.WithinScope",
    ],
    "DEFAULT_THROTTLE_CLASSES": ["athletes.tokens.throttles.TokenThrottle"],
    "DEFAULT_THROTTLE_RATES": {"token": env("COACHDESK_TOKEN_RATE", default="600/min")},
    "DEFAULT_SCHEMA_CLASS": "coachdesk.common.api.openapi.OperationSchema",
    "DEFAULT_RENDERER_CLASSES": ["rest_framework.renderers.JSONRenderer"],
    "DEFAULT_PARSER_CLASSES": ["coachdesk.common.api.parsers.ShallowJSONParser"],
    "EXCEPTION_HANDLER": "coachdesk.common.api.problems.problem_response",
    "COERCE_DECIMAL_TO_STRING": True,
}
SPECTACULAR_SETTINGS = {
    "TITLE": "Coachdesk",
    "VERSION": "1",
    "DESCRIPTION": "What the pages do, for programs: same rules, same permissions.",
    "OAS_VERSION": "3.1.0",
    "SERVE_INCLUDE_SCHEMA": False,
    "COMPONENT_SPLIT_REQUEST": True,
    "ENUM_GENERATE_CHOICE_DESCRIPTION": False,
    "POSTPROCESSING_HOOKS": ["coachdesk.common.api.openapi.with_problems"],
}

CELERY_WORKER_HIJACK_ROOT_LOGGER = False
LOGGING = logging_settings(
    level=env("COACHDESK_LOG", default="INFO"),
    as_json=env("COACHDESK_LOG_FORMAT", default="line") == "json",
)
