# SPDX-License-Identifier: GPL-3.0-or-later
# Ghost mantis.
# Stages are moults since hatch; days are at 25 °C. Format and tags: see DEVELOPERS.md.

[profile]
scientific=Phyllocrania paradoxa
common=ghost mantis
common_de=Geistermantis
group=humid
communal=true

[clock]
t0=12
t0.from=ours
topt=28
topt.from=ours
tflat=30
tflat.from=ours
tmax=38
tmax.from=ours

[development]
stage_days=17;17;19;22;25;27
stage_days.from=ours
stage_days.note=Scaled so that a female of seven moults takes the 5½ to 6 months that keepers tell.
stage_days.note_de=So gestreckt, dass ein Weibchen mit sieben Häutungen die 5½ bis 6 Monate der Halter braucht.
before_subadult_days=30
before_subadult_days.from=ours
subadult_days=42
subadult_days.from=ours
male_factor=1
male_factor.from=ours
moults_male=5:.10;6:.75;7:.15
moults_male.from=ours
moults_male.note=Keepers say six for males, seven for females; the spread is ours.
moults_male.note_de=Halter nennen sechs für Männchen, sieben für Weibchen; die Streuung ist unsere.
moults_female=6:.15;7:.75;8:.10
moults_female.from=ours
moults_female.note=Keepers say six for males, seven for females; the spread is ours.
moults_female.note_de=Halter nennen sechs für Männchen, sieben für Weibchen; die Streuung ist unsere.
sd_room=.18
sd_room.from=ours
sd_lot=.10
sd_lot.from=ours
sd_animal=.10
sd_animal.from=ours
sd_stage=.19
sd_stage.from=ours

[size]
adult_male_mm=45
adult_male_mm.from=practice
adult_female_mm=48
adult_female_mm.from=practice
adult_female_mm.other=65
adult_female_mm.other.from=practice
adult_female_mm.note=Most say 45–50 mm, some 60–70 mm.
adult_female_mm.note_de=Die meisten nennen 45–50 mm, manche 60–70 mm.
ratio_body=1.29
ratio_body.from=measured:faber
ratio_head=1.20
ratio_head.from=ours

[sex]
male_prior=.5
male_prior.from=ours
readable_from=3
readable_from.from=practice
plates_male=8
plates_male.from=practice
plates_female=6
plates_female.from=practice
tegmen_pronotum_male=2.55;.20
tegmen_pronotum_male.from=ours
tegmen_pronotum_female=2.0;.25
tegmen_pronotum_female.from=ours

[care]
feed_m0_1=1;2
feed_m0_1.from=practice
feed_m2_3=2;3
feed_m2_3.from=practice
feed_m4=2;3
feed_m4.from=practice
feed_adult_female=2;3
feed_adult_female.from=practice
feed_adult_male=3;4
feed_adult_male.from=practice
feed_gravid=1;2
feed_gravid.from=practice
mist=2;4
mist.from=practice
mist.other=1;1
mist.other.from=practice
mist.note=Every two or three days, or every evening.
mist.note_de=Alle zwei, drei Tage oder jeden Abend.
clean=7;8
clean.from=practice
touch_m3=1
touch_m3.from=practice
touch_m4=3
touch_m4.from=practice
touch_subadult=4
touch_subadult.from=practice
touch_adult=7
touch_adult.from=practice
food_m3=1;1
food_m3.from=practice
food_m4=2;2
food_m4.from=practice
food_subadult=2;2
food_subadult.from=practice
food_adult=3;4
food_adult.from=practice
subadult_fast_days=10
subadult_fast_days.from=practice
split_moults=-1
split_moults.from=practice
split_moults.other=3
split_moults.other.from=practice
split_moults.note=They bear company with space and food; one breeding centre parts all at L4.
split_moults.note_de=Sie vertragen Gesellschaft bei Platz und Futter; eine Zuchtstation trennt alle bei L4.
prey_nymph=.5
prey_nymph.from=practice
prey_adult=1
prey_adult.from=practice

[climate]
day=25;30
day.from=practice
day.other=20;28
day.other.from=practice
day.note=Most keep them at 25–30 °C; some name 20–28 °C over the whole day.
day.note_de=Die meisten halten sie bei 25–30 °C; manche nennen 20–28 °C über den ganzen Tag.
night=20;23
night.from=practice
spot=-;-
spot.from=practice
look_above=32
look_above.from=practice
look_below=17
look_below.from=practice
humidity=50;60
humidity.from=practice

[adult]
receptive_male=10;40
receptive_male.from=practice
receptive_female=21;35
receptive_female.from=practice
life_male=45;75
life_male.from=ours
life_male.note=Keepers: about two months.
life_male.note_de=Halter: etwa zwei Monate.
life_female=150;210
life_female.from=ours
life_female.note=Keepers: about six months.
life_female.note_de=Halter: etwa sechs Monate.

[eggs]
incubation=35;56
incubation.from=practice
young=20;50
young.from=practice
guards=false
rest=false

[cue crown]
says=either
odds=4
odds.from=ours
from_moults=5
from_moults.from=practice
from_moults.other=3
from_moults.other.from=practice
from_moults.note=Short and broad in females, long, thin and bent twice in males. Sources say from L4–L5 or only from L6: the later counts.
from_moults.note_de=Bei Weibchen kurz und breit, bei Männchen lang, dünn und zweimal geknickt. Quellen sagen ab L4–L5 oder erst ab L6: Es gilt das Spätere.

[cue lobes]
says=either
odds=2
odds.from=ours
from_moults=4
from_moults.from=practice
from_moults.note=Lobes of the abdomen smaller in males.
from_moults.note_de=Lappen am Hinterleib bei Männchen kleiner.

[sources]
faber=Faber 1994, J. Zool. (London), doi 10.1111/j.1469-7998.1994.tb01568.x: mean length ratio between successive instars of mantises 1.29 (an average over mantises, not of this species)
