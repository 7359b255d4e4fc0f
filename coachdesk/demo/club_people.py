"""Who is in the club."""

from coachdesk.demo.scenario import Person

CLUB = "Quarry Lane Barbell"
PASSWORD = "chalk and iron"  # shown on the console of a demo that listens on this machine only

PEOPLE = [
    Person("ruth", "Ruth Calloway", "owner"),
    Person("anselm", "Anselm Okoro", "coach"),
    Person("petra", "Petra Vukelić", "coach"),
    Person("lewis", "Lewis Tarn", "coach"),
    Person("saoirse", "Saoirse Brannigan", coach="anselm"),
    Person("emeka", "Emeka Duru", coach="anselm"),
    Person("wilhelmina", "Wilhelmina Constantinescu-Featherstonehaugh", coach="petra"),
    Person("tariq", "Tariq Mansour", coach="lewis", unit="lb"),
    Person("greta", "Greta Holm", coach="anselm"),
    Person("oskar", "Oskar Wieczorek", coach="petra"),
    Person("ngaire", "Ngaire Tamati", coach="petra"),
    Person("luca", "Luca Ferrante", coach="lewis"),
    Person("hana", "Hana Petrova", coach="anselm"),
    Person("dmitri", "Dmitri Vance", coach="lewis"),
    Person("yusuf", "Yusuf Adeyemi", coach="petra"),
    Person("kirsten", "Kirsten Dahl", coach="anselm"),
]
SIGN_INS = ["anselm", "saoirse", "ruth"]
