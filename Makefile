# caneyear: build it, check it, install it. Everything made lands under $(B).
#
#   make demo     install what is missing, build, open the demo farm; in a pipe, print its plan
#   make check    install what is missing, build with sanitizers, run every test
#   make soak     the same tests in their long forms: more seeds, more keys, more values
#   make bench    the benchmark figures, as ratios in one run
#   make install  PREFIX=/usr/local  DESTDIR=

B ?= build
PREFIX ?= /usr/local
ifeq ($(origin CC),default)
CC = gcc
endif
CFLAGS ?= -O2 -g
ALL_CFLAGS = -std=c11 -Wall -Wextra -Werror -Wstrict-prototypes -Wmissing-prototypes \
             -Iinclude -Isrc -MMD -MP $(CFLAGS)
SANITIZE = -fsanitize=address,undefined -fno-sanitize-recover=undefined -fno-omit-frame-pointer
CHECK_CFLAGS = -O1 -g $(SANITIZE)

# The rooms, lowest first (DEVELOPERS.md has the map); the first seven are the engine library.
ENGINE = base climate crop trellis water season pencil
PROGRAM = words store screen main
ROOMS = $(ENGINE) $(PROGRAM)

# What a room may include besides itself. `make rooms` holds the sources to this list, and
# each room's tests link these archives and no others.
uses_base =
uses_climate = base
uses_crop = climate base
uses_trellis = base
uses_water = base
uses_season = water trellis crop climate base
uses_pencil = season water trellis crop climate base
uses_words = season water trellis crop climate base
uses_store = words season water trellis crop climate base
uses_screen = store words season water trellis crop climate base
uses_main = screen store words pencil season water trellis crop climate base

# Packages: the pkg-config name, then Debian's package. Looked up only when a recipe runs,
# so that `make deps` can install them first.
NEEDS = ncursesw:libncurses-dev sqlite3:libsqlite3-dev yaml-0.1:libyaml-dev
TEST_NEEDS = cmocka:libcmocka-dev vterm:libvterm-dev libnova:libnova-dev gsl:libgsl-dev
TEST_TOOLS = mandoc:mandoc sqlite3:sqlite3
# ncursesw asks for an older X/Open than ours; the newer one stands.
PKG_CFLAGS = $(filter-out -D_XOPEN_SOURCE=% -D_DEFAULT_SOURCE,\
             $(shell pkg-config --cflags ncursesw sqlite3 yaml-0.1))
PKG_LIBS = $(shell pkg-config --libs ncursesw sqlite3 yaml-0.1)
TEST_LIBS = $(shell pkg-config --libs cmocka vterm gsl) -lnova

sources = $(sort $(wildcard src/$(1)/*.c))
objects = $(patsubst src/%.c,$(B)/$(1)/%.o,$(call sources,$(2)))

RELEASE_ARCHIVES = $(PROGRAM:%=$(B)/release/%.a)
TESTS = $(patsubst tests/%.c,$(B)/check/tests/%,$(sort $(wildcard tests/*/test_*.c)))
SCRIPTS = $(sort $(wildcard tests/*/test_*.sh))

all: $(B)/caneyear

# ---- building ------------------------------------------------------------------------------

$(B)/caneyear: $(call objects,release,main) $(B)/release/screen.a $(B)/release/store.a \
               $(B)/release/words.a $(B)/libcaneyear.a
	$(Q)$(CC) $(CFLAGS) $(LDFLAGS) -o $@ $^ $(PKG_LIBS) -lm -lpthread

$(B)/libcaneyear.a: $(foreach room,$(ENGINE),$(call objects,release,$(room)))
	$(Q)rm -f $@ && ar rcs $@ $^

$(B)/check/caneyear: $(call objects,check,main) $(uses_main:%=$(B)/check/%.a)
	$(Q)$(CC) $(CHECK_CFLAGS) $(LDFLAGS) -o $@ $^ $(PKG_LIBS) -lm -lpthread

define room_archive
$(B)/$(1)/$(2).a: $(call objects,$(1),$(2))
	$$(Q)rm -f $$@ && ar rcs $$@ $$^
endef
$(foreach room,$(ROOMS),$(eval $(call room_archive,release,$(room))))
$(foreach room,$(ROOMS),$(eval $(call room_archive,check,$(room))))

# The engine sees no POSIX and no library but the C one; the program's rooms do.
engine_flags = $(if $(filter $(ENGINE),$(1)),,-D_XOPEN_SOURCE=700 -D_DEFAULT_SOURCE \
               -DCANEYEAR_SHARE='"$(PREFIX)/share/caneyear"' $(PKG_CFLAGS))
room_of = $(word 2,$(subst /, ,$(1)))

$(B)/release/%.o: src/%.c | $(B)/deps.ok
	@mkdir -p $(@D)
	$(Q)$(CC) $(ALL_CFLAGS) $(call engine_flags,$(call room_of,$<)) -c -o $@ $<

$(B)/check/%.o: src/%.c | $(B)/deps.ok
	@mkdir -p $(@D)
	$(Q)$(CC) $(ALL_CFLAGS) $(CHECK_CFLAGS) $(call engine_flags,$(call room_of,$<)) -c -o $@ $<

# ---- checking ------------------------------------------------------------------------------

check: $(B)/test-deps.ok rooms $(TESTS) $(B)/check/caneyear $(B)/caneyear
	@B=$(abspath $(B)) CC='$(CC)' sh tests/tools/run.sh $(TESTS) $(SCRIPTS)

# The tests whose name under tests/ contains T: make check-some T=climate
some = $(foreach t,$(1),$(if $(findstring $(T),$(patsubst $(B)/check/tests/%,%,$(t))),$(t)))
check-some: $(B)/test-deps.ok $(call some,$(TESTS)) \
            $(if $(call some,$(SCRIPTS)),$(B)/check/caneyear $(B)/caneyear)
	@B=$(abspath $(B)) CC='$(CC)' sh tests/tools/run.sh $(call some,$(TESTS) $(SCRIPTS))

soak:
	@SOAK=1 $(MAKE) check

rooms: $(B)/libcaneyear.a
	@sh tests/tools/rooms.sh $(B)/libcaneyear.a $(foreach room,$(ROOMS),"$(room):$(uses_$(room))")

TEST_CFLAGS = $(ALL_CFLAGS) $(CHECK_CFLAGS) -Itests -D_XOPEN_SOURCE=700 -D_DEFAULT_SOURCE
SUPPORT = $(patsubst %.c,$(B)/check/%.o,$(sort $(wildcard tests/support/*.c)))
.SECONDARY: $(SUPPORT)

$(B)/check/tests/support/%.o: tests/support/%.c | $(B)/test-deps.ok
	@mkdir -p $(@D)
	$(Q)$(CC) $(TEST_CFLAGS) $(PKG_CFLAGS) -c -o $@ $<

# A test links its own room and what that room may use; tests/program drives the binary.
define room_tests
$(B)/check/tests/$(1)/%: tests/$(1)/%.c $(SUPPORT) $(B)/check/$(1).a $(uses_$(1):%=$(B)/check/%.a) \
                         | $(B)/test-deps.ok
	@mkdir -p $$(@D)
	$$(Q)$$(CC) $$(TEST_CFLAGS) $$(PKG_CFLAGS) -MF $$@.d -o $$@ $$(filter %.c %.o %.a,$$^) \
	  $$(LDFLAGS) $$(TEST_LIBS) $$(if $$(filter words store screen,$(1)),$$(PKG_LIBS)) -lutil -lm -lpthread
endef
$(foreach room,$(filter-out main,$(ROOMS)),$(eval $(call room_tests,$(room))))
uses_program = store words season water trellis crop climate base
$(eval $(subst $(B)/check/program.a,$(B)/check/screen.a,$(call room_tests,program)))
$(filter $(B)/check/tests/program/%,$(TESTS)): $(B)/check/caneyear

# ---- what must be installed ----------------------------------------------------------------

deps: $(B)/deps.ok
test-deps: $(B)/test-deps.ok

# $(1): name:package pairs found by pkg-config; $(2): name:package pairs found on the PATH.
define install_missing
	@mkdir -p $(@D); missing=; \
	command -v pkg-config >/dev/null 2>&1 || missing="$$missing pkg-config"; \
	for pair in $(1); do \
	  pkg-config --exists "$${pair%%:*}" 2>/dev/null || \
	  [ "$${pair%%:*}" = libnova -a -e /usr/include/libnova/libnova.h ] || \
	  missing="$$missing $${pair#*:}"; done; \
	for pair in $(2); do command -v "$${pair%%:*}" >/dev/null 2>&1 || \
	  missing="$$missing $${pair#*:}"; done; \
	if [ -n "$$missing" ]; then \
	  if command -v apt-get >/dev/null 2>&1; then \
	    sudo=; [ "$$(id -u)" = 0 ] || sudo=sudo; \
	    echo "installing:$$missing"; \
	    $$sudo env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq $$missing >/dev/null 2>&1 || { \
	      $$sudo apt-get update -qq && \
	      $$sudo env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq $$missing >/dev/null; }; \
	  else \
	    echo "caneyear needs these packages (Debian's names), and this machine has no apt-get:"; \
	    for name in $$missing; do echo "  $$name"; done; exit 1; \
	  fi; \
	fi
	@touch $@
endef

$(B)/deps.ok:
	$(call install_missing,$(NEEDS),)

$(B)/test-deps.ok: $(B)/deps.ok
	$(call install_missing,$(TEST_NEEDS),$(TEST_TOOLS))

# ---- running and installing ----------------------------------------------------------------

# In a terminal the planner, on a copy of the demo farm that keeps what you do to it; else its plan.
demo: $(B)/caneyear
	@if [ -t 0 ] && [ -t 1 ]; then \
	  [ -e $(B)/demo.cane ] || $(B)/caneyear import $(B)/demo.cane share/demo.yaml >/dev/null; \
	  exec $(B)/caneyear $(B)/demo.cane; \
	else exec $(B)/caneyear plan share/demo.yaml; fi

# Figures for people: times, and ratios within the run.
bench: $(B)/bench $(B)/bench-screen $(B)/caneyear
	@$(B)/bench $(B)
	@rm -f $(B)/bench.cane && CANEYEAR_SHARE=share $(B)/caneyear import $(B)/bench.cane share/demo.yaml >/dev/null && \
	  $(B)/bench-screen $(B)/caneyear $(B)/bench.cane; rm -f $(B)/bench.cane

$(B)/bench-screen: tests/bench/screen.c tests/support/pty.c $(B)/release/base.a | $(B)/test-deps.ok
	$(Q)$(CC) $(ALL_CFLAGS) -Itests -D_XOPEN_SOURCE=700 -D_DEFAULT_SOURCE -o $@ \
	  $(filter %.c %.a,$^) $(TEST_LIBS) -lutil -lm

$(B)/bench: tests/bench/bench.c $(B)/release/store.a $(B)/release/words.a $(B)/libcaneyear.a
	$(Q)$(CC) $(ALL_CFLAGS) -D_XOPEN_SOURCE=700 $(PKG_CFLAGS) -o $@ $(filter %.c %.a,$^) \
	  $(PKG_LIBS) -lm -lpthread

# caneyear(5) is made from the table of fields, the keys in caneyear(1) from the list of actions;
# commit what it makes.
manual: $(B)/caneyear
	@{ cat man/farm.head && $(B)/caneyear fields --mdoc && cat man/farm.foot; } >man/caneyear.5
	@sh tests/tools/keys.sh $(B)/caneyear <man/caneyear.1 >$(B)/caneyear.1 && \
	  cp $(B)/caneyear.1 man/caneyear.1

# The map of files in DEVELOPERS.md, from the head of each.
map:
	@sed '/^## The map/q' DEVELOPERS.md >$(B)/map && sh tests/tools/map.sh >>$(B)/map && \
	  cp $(B)/map DEVELOPERS.md

install: $(B)/caneyear
	install -d $(DESTDIR)$(PREFIX)/bin $(DESTDIR)$(PREFIX)/share/caneyear \
	  $(DESTDIR)$(PREFIX)/share/man/man1 $(DESTDIR)$(PREFIX)/share/man/man5
	install -m 755 $(B)/caneyear $(DESTDIR)$(PREFIX)/bin/caneyear
	install -m 644 share/*.yaml $(DESTDIR)$(PREFIX)/share/caneyear
	install -m 644 man/caneyear.1 $(DESTDIR)$(PREFIX)/share/man/man1
	install -m 644 man/caneyear.5 $(DESTDIR)$(PREFIX)/share/man/man5

uninstall:
	rm -f $(DESTDIR)$(PREFIX)/bin/caneyear $(DESTDIR)$(PREFIX)/share/man/man1/caneyear.1 \
	  $(DESTDIR)$(PREFIX)/share/man/man5/caneyear.5
	rm -rf $(DESTDIR)$(PREFIX)/share/caneyear

format:
	clang-format -i src/*/*.[ch] include/caneyear/*/*.h tests/*/*.[ch]

clean:
	rm -rf $(B)

Q = $(if $(V),,@)
.PHONY: all check check-some soak rooms deps test-deps demo bench manual map install uninstall format clean
-include $(shell find $(B) -name '*.d' 2>/dev/null)
